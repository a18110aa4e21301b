#include "exchange/encoding.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>

namespace batten {
namespace {

using namespace std::string_view_literals;
using testing::HasSubstr;

Result<std::string> decoded(std::string_view bytes) {
  std::string storage;
  return as_utf8(bytes, storage).map([](std::string_view text) { return std::string(text); });
}

TEST(Encoding, Utf8IsTakenAsItIsWithoutItsMark) {
  EXPECT_EQ(decoded("½ ″ 𝄞"), "½ ″ 𝄞");
  EXPECT_EQ(decoded("\xEF\xBB\xBFnote"), "note");
  EXPECT_EQ(decoded(""), "");
}

TEST(Encoding, Utf16WithAMarkInBothByteOrders) {
  // "½𝄞": U+00BD, U+1D11E as the surrogates D834 DD1E (RFC 2781, section 2.1 gives the arithmetic).
  EXPECT_EQ(decoded("\xFF\xFE\xBD\x00\x34\xD8\x1E\xDD"sv), "½𝄞");
  EXPECT_EQ(decoded("\xFE\xFF\x00\xBD\xD8\x34\xDD\x1E"sv), "½𝄞");
}

TEST(Encoding, LongUtf16IsConvertedWhole) {
  std::string bytes = "\xFF\xFE";
  std::string expected;
  for (int i = 0; i < 50'000; ++i) {
    bytes += "\x44\x30"sv;  // U+3044, three bytes in UTF-8
    expected += "い";
  }
  EXPECT_EQ(decoded(bytes), expected);
}

TEST(Encoding, Latin1IsRefusedWithTheLine) {
  const auto text = decoded("note,gauge\nA0,x\nA0,\xE9talon\n");
  ASSERT_FALSE(text);
  EXPECT_THAT(text.error().happened, HasSubstr("line 3"));
  EXPECT_THAT(text.error().todo, HasSubstr("UTF-8"));
}

TEST(Encoding, IllFormedUtf8IsRefused) {
  // RFC 3629, section 3 and 10: overlong forms, surrogates, above U+10FFFF, cut short.
  for (const auto bytes :
       {"\xC0\xAF"sv, "\xE0\x80\xAF"sv, "\xED\xA0\x80"sv, "\xF4\x90\x80\x80"sv,
        "\xF5\x80\x80\x80"sv, "\xF8\x88\x80\x80\x80"sv, "\xE2\x82"sv, "\x80"sv, "\xFF"sv})
    EXPECT_FALSE(decoded(bytes));
}

TEST(Encoding, Utf16WithoutAMarkOrUnsoundIsRefused) {
  EXPECT_FALSE(decoded("n\0o\0t\0e\0"sv));
  EXPECT_FALSE(decoded("\xFF\xFE\x34\xD8x\0"sv)) << "half a surrogate pair";
  EXPECT_FALSE(decoded("\xFF\xFEx"sv)) << "half a unit";
  EXPECT_FALSE(decoded("\xFF\xFEx\0\0\0"sv)) << "NUL";
}

TEST(Encoding, ShownTextIsShortAndHarmless) {
  EXPECT_EQ(shown("a\tb\r\nc\x1b[31m\x7f"), "a b  c?[31m?");
  EXPECT_EQ(shown("0123456789", 10), "0123456789");
  EXPECT_EQ(shown("0123456789a", 10), "0123456…");
  EXPECT_EQ(shown("0123456½89", 10), "0123456…") << "11 bytes, cut before the ½";
  EXPECT_EQ(shown("012345½789", 10), "012345…") << "never inside a character";
}

}  // namespace
}  // namespace batten

// Bundles: what is written is read back to the bit; what is damaged, foreign, newer or too large is
// told apart and never taken. The format is docs/formats/bundle.md; python_bundle.py reads it with
// other libraries.
#include "exchange/bundle.hpp"

#include "exchange/bundle_head.hpp"
#include "tests/records/samples.hpp"

#include <cmath>
#include <cstring>
#include <gmock/gmock.h>
#include <random>
#include <string>

namespace batten {
namespace {

using testing::HasSubstr;

WholeJournal sample() {
  WholeJournal journal;
  journal.piano = samples::piano();
  journal.piano.name = "Großer \"Saal\"\t\\ 割れ";
  journal.visits = {samples::visit(1), samples::visit(2)};
  std::int64_t stamp = 0;
  for (const Entry& e : samples::every_kind(samples::visit(1)))
    journal.entries.push_back({e, stamp = next_stamp(stamp, e.at_ms)});
  return journal;
}

// The text with something else in it and a checksum that is right again.
std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  text.replace(at, from.size(), to);
  if (const auto place = sha256_place(text))
    text.replace(*place, sha256_digits, sha256_without_digits(text, *place));
  return text;
}

std::string refusal(const std::string& text) {
  const auto read = read_bundle(text);
  if (read) return "taken";
  EXPECT_EQ(read.error().kept, "Nothing was changed.");
  EXPECT_FALSE(read.error().todo.empty());
  return read.error().happened;
}

TEST(Bundle, IsReadBackToTheBit) {
  const WholeJournal journal = sample();
  const auto read = read_bundle(write_bundle(journal));
  ASSERT_TRUE(read) << read.error().sentence();
  EXPECT_EQ(*read, journal);
  // −0 equals 0: told apart by its text.
  EXPECT_EQ(write_bundle(*read), write_bundle(journal));
  const WholeJournal empty{samples::piano(), {}, {}};
  EXPECT_EQ(read_bundle(write_bundle(empty)).value(), empty);
}

TEST(Bundle, KeepsEveryNumber) {
  std::mt19937_64 random(3);
  WholeJournal journal{samples::piano(), {samples::visit()}, {}};
  for (std::uint32_t n = 1; n < 3000; ++n) {
    const std::uint64_t bits = random();
    double value = 0;
    static_assert(sizeof bits == sizeof value);
    std::memcpy(&value, &bits, sizeof value);
    if (!std::isfinite(value)) continue;
    Entry entry = samples::reading(n, samples::visit());
    std::get<ReadingTaken>(entry.content).value = value;
    journal.entries.push_back({entry, n});
  }
  EXPECT_EQ(read_bundle(write_bundle(journal)).value(), journal);
}

// Damage on the way: no changed byte and no missing end is taken for the file.
TEST(Bundle, DamagedIsNeverTaken) {
  const std::string text = write_bundle(sample());
  std::mt19937 random(5);
  for (std::size_t i = 0; i < text.size(); ++i) {
    std::string other = text;
    other[i] = static_cast<char>(static_cast<unsigned char>(other[i]) ^ (1U << (random() % 8)));
    ASSERT_NE(refusal(other), "taken") << "byte " << i;
  }
  for (std::size_t length = 0; length < text.size() - 1; length += 1 + random() % 7)
    ASSERT_NE(refusal(text.substr(0, length)), "taken") << length;
  EXPECT_THAT(refusal(text.substr(0, text.size() / 2)), HasSubstr("damaged"));
  std::string mailed;  // other line ends
  for (const char c : text) mailed += c == '\n' ? std::string("\r\n") : std::string(1, c);
  EXPECT_THAT(refusal(mailed), HasSubstr("checksum"));
}

TEST(Bundle, ForeignFilesAreToldApart) {
  EXPECT_THAT(refusal(""), HasSubstr("empty"));
  for (const char* other : {"note,reading,value\nC4,blow,45\n", "{}", "[]", "null", "7", "\xff\xfe",
                            R"({"format":"something else","version":1})"})
    EXPECT_EQ(refusal(other), "The file is no bundle of a piano.") << other;
  EXPECT_THAT(refusal(std::string(100'000, '[')), HasSubstr("no bundle"));
}

TEST(Bundle, OfALaterVersionIsToldSo) {
  const std::string text = write_bundle(sample());
  for (const auto& later : {changed(text, "\"version\":1", "\"version\":2"),
                            changed(text, "\"kind\":\"skip\"", "\"kind\":\"dream\""),
                            changed(text, "\"reading\":\"drop\"", "\"reading\":\"moon-phase\""),
                            changed(text, "\"adjuster\":\"capstan\"", "\"adjuster\":\"knob\""),
                            changed(text, "\"item\":\"screws-tight\"", "\"item\":\"dust\""),
                            changed(text, "\"state\":\"waived\"", "\"state\":\"forgotten\"")}) {
    const auto read = read_bundle(later);
    ASSERT_FALSE(read);
    EXPECT_THAT(read.error().happened, HasSubstr("later version"));
    EXPECT_THAT(read.error().todo, HasSubstr("Update"));
  }
}

// The checksum is right; what is inside is not what the format says.
TEST(Bundle, MembersMissingUnknownOrOfTheWrongKindAreToldByName) {
  const std::string text = write_bundle(sample());
  const std::pair<const char*, const char*> cases[] = {
      {"\"who\":\"Ada\",", ""},
      {"\"who\":\"Ada\",", "\"who\":\"Ada\",\"colour\":1,"},
      {"\"who\":\"Ada\",", "\"who\":7,"},
      {"\"value\":145.25", "\"value\":\"145.25\""},
      {"\"value\":145.25", "\"value\":null"},
      {"\"key\":40", "\"key\":40.5"},
      {"\"key\":40", "\"key\":4000"},
      {"\"key\":40", "\"key\":true"},
      {"\"stamp\":1,", "\"stamp\":18446744073709551615,"},
      {"\"title\":\"visit 1\"", "\"title\":\"visit 1\",\"x\":{}"},
      {"\"lowest_key\":1", "\"lowest_key\":\"A0\""},
      {"\"place\":", "\"where\":"},
      {"\"piano\":{", "\"piano\":[],\"x\":{"},
      {"\"visits\":[", "\"visits\":[7,"},
      {"\"visits\":[", "\"visits\":[[{}],"},
      {"\"entries\":[", "\"more\":1,\"entries\":["},
      {"\"version\":1", "\"version\":\"1\""},
      {"\"version\":1", "\"version\":0"},
      {"\"format\":\"batten-bundle\",", "\"format\":\"batten-bundle\",\"colour\":1,"},
  };
  for (const auto& [from, to] : cases) {
    EXPECT_THAT(refusal(changed(text, from, to)), HasSubstr("damaged")) << from << " -> " << to;
  }
  EXPECT_THAT(refusal(changed(text, "\"value\":145.25", "\"value\":1e999")), HasSubstr("damaged"));
  // Which entry, and no control characters of the file's.
  EXPECT_THAT(refusal(changed(text, "\"who\":\"Ada\",", "\"who\":\"Ada\",\"\\u001b[2J\":1,")),
              testing::AllOf(HasSubstr("Entry 1: "), testing::Not(HasSubstr("\x1b"))));
}

TEST(Bundle, TooLargeIsNotEvenLookedAt) {
  EXPECT_THAT(refusal(std::string(most_bundle_bytes + 1, ' ')), HasSubstr("larger than 50 MB"));
}

}  // namespace
}  // namespace batten

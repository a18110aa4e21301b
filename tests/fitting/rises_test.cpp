// The list of key depths and rises of the crown, as a hand writes it.
#include "app/fit_job.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::HasSubstr;

TEST(Rises, AreReadAsWritten) {
  const auto read = parse_rises(
      "# shims on the front rail\n"
      "C4 4 20.3\n"
      "\n"
      "  c4;6mm;30,9mm;0.1   # dial gauge\r\n"
      "F#2 1/4\" 1\"");
  ASSERT_TRUE(read) << read.error().sentence();
  ASSERT_EQ(read->size(), 3U);
  for (const fit::Reading& r : *read) EXPECT_EQ(r.what, fit::What::rise);
  EXPECT_EQ((*read)[0].note, Key{40});
  EXPECT_DOUBLE_EQ((*read)[0].depth, 0.004);
  EXPECT_DOUBLE_EQ((*read)[0].value, 0.0203);
  EXPECT_DOUBLE_EQ((*read)[0].sd, 0.0003);
  EXPECT_DOUBLE_EQ((*read)[1].value, 0.0309);
  EXPECT_DOUBLE_EQ((*read)[1].sd, 0.0001);
  EXPECT_EQ((*read)[2].note, Key{22});
  EXPECT_DOUBLE_EQ((*read)[2].depth, 0.00635);
  EXPECT_TRUE(parse_rises("")->empty());
}

TEST(Rises, SayWhichLineIsWrong) {
  const auto refused = [](std::string_view text) {
    const auto read = parse_rises(text);
    return read ? std::string() : read.error().sentence();
  };
  EXPECT_THAT(refused("C4 4 20.3\nC4 4"), HasSubstr("Line 2"));
  EXPECT_THAT(refused("H4 4 20.3"), HasSubstr("Line 1"));
  EXPECT_THAT(refused("C4 4 g 20.3"), HasSubstr("Line 1"));
  EXPECT_THAT(refused("C4 0 20.3"), HasSubstr("No action"));
  EXPECT_THAT(refused("C4 -4 20.3"), HasSubstr("No action"));
  EXPECT_THAT(refused("C4 4 203"), HasSubstr("No action"));
  EXPECT_THAT(refused("C4 4 20.3 0"), HasSubstr("No action"));
  EXPECT_THAT(refused("C4,4,20.3"), HasSubstr("Line 1"));
}

}  // namespace
}  // namespace batten

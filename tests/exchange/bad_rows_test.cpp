// Every reason a row is not taken for, with its line, and what a whole table is refused for.
#include "exchange/reading_table.hpp"
#include "tests/exchange/read_file.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::HasSubstr;

struct Expected {
  int line;
  const char* happened;
};

TEST(BadRows, EachReasonWithItsLine) {
  const auto table = read_table(table_file("bad-rows.csv"), Compass{});
  ASSERT_TRUE(table) << table.error().sentence();
  const std::vector<Expected> expected = {
      {3, "“H4” is not a note"},
      {4, "no note for the string height"},
      {5, "“C9” is not a note"},
      {6, "“string-hight” is no reading"},
      {7, "does not say what was read"},
      {8, "The string height at A0 reads 18.73 mm; possible is"},
      {9, "“g” is not a unit for this; expected a length"},
      {10, "is a mass; expected a length"},
      {11, "about 187"},
      {12, "once for the visit"},
      {13, "once for the piano"},
      {14, "grades are whole numbers"},
      {15, "uncertainty of 0 mm"},
      {16, "uncertainty of -0.1 mm"},
      {17, "uncertainty of 500 mm"},
      {18, "its uncertainty"},
      {19, "stands under no heading"},
      {20, "is not a note"},
      {25, "The rows of lines 25 to 27 hang together"},
  };
  ASSERT_EQ(table->bad.size(), expected.size());
  for (std::size_t i = 0; i < expected.size(); ++i) {
    EXPECT_EQ(table->bad[i].line, expected[i].line) << table->bad[i].reason.sentence();
    EXPECT_THAT(table->bad[i].reason.happened, HasSubstr(expected[i].happened));
    EXPECT_FALSE(table->bad[i].reason.todo.empty()) << table->bad[i].reason.happened;
  }
  EXPECT_EQ(table->bad[0].row, "H4,string-height,187.3,mm,,");
  ASSERT_EQ(table->good.size(), 3u);
  EXPECT_EQ(table->good[0].line, 2);
  EXPECT_EQ(table->good[1].line, 22);
  EXPECT_EQ(table->good[1].gauge, "good\nover\nlines");
  EXPECT_EQ(table->good[2].line, 28);
  EXPECT_EQ(table->rows, 22);
  EXPECT_EQ(table->bad_rows, 19);
}

TEST(BadRows, OutsideTheCompassOfThisPiano) {
  const auto compass = make_compass(*parse_key("A0"), *parse_key("A7"));
  ASSERT_TRUE(compass);
  const auto table = read_table("note,blow\nA7,45\nB7,45\n", *compass);
  ASSERT_TRUE(table);
  ASSERT_EQ(table->bad.size(), 1u);
  EXPECT_EQ(table->bad[0].line, 3);
  EXPECT_THAT(table->bad[0].reason.happened,
              HasSubstr("B7 is not on this piano, which has A0 to A7"));
}

TEST(BadRows, AWideRowIsTakenWholeOrNotAtAll) {
  const auto table = read_table("note,blow,dip,drop\nA0,45,100,-3\nB0,45,10,1.5\n", Compass{});
  ASSERT_TRUE(table);
  ASSERT_EQ(table->bad.size(), 1u);
  EXPECT_THAT(table->bad[0].reason.happened, HasSubstr("The dip at A0 reads 100 mm"));
  EXPECT_THAT(table->bad[0].reason.happened, HasSubstr("(1 more in this row cannot be taken.)"));
  EXPECT_EQ(table->good.size(), 3u);
}

TEST(BadRows, TheFirstThousandAreListedTheRestCounted) {
  std::string text = "note,blow\n";
  for (int i = 0; i < 1500; ++i) text += "X,45\n";
  const auto table = read_table(text, Compass{});
  ASSERT_TRUE(table);
  EXPECT_EQ(table->bad.size(), 1000u);
  EXPECT_EQ(table->bad_rows, 1500);
  EXPECT_EQ(table->bad.back().line, 1001);
}

TEST(BadRows, WhatIsShownOfARowIsShortAndHarmless) {
  const auto table =
      read_table("note,blow\nX\x1b[2J" + std::string(1000, 'y') + ",45\n", Compass{});
  ASSERT_TRUE(table);
  ASSERT_EQ(table->bad.size(), 1u);
  EXPECT_LE(table->bad[0].row.size(), 200u);
  EXPECT_EQ(table->bad[0].row.find('\x1b'), std::string::npos);
  EXPECT_EQ(table->bad[0].reason.happened.find('\x1b'), std::string::npos);
  EXPECT_LT(table->bad[0].reason.happened.size(), 200u);
}

TEST(BadRows, CellsAboveTheLimit) {
  const std::string text = "note,blow,gauge\nA0,45," + std::string(4096, 'x') + "\nB0,45," +
                           std::string(4097, 'x') + "\n";
  const auto table = read_table(text, Compass{});
  ASSERT_TRUE(table);
  EXPECT_EQ(table->good.size(), 1u);
  ASSERT_EQ(table->bad.size(), 1u);
  EXPECT_EQ(table->bad[0].line, 3);
  EXPECT_THAT(table->bad[0].reason.happened, HasSubstr("longer than 4096 bytes"));
}

void expect_refused(std::string_view text, const char* happened, const TableLimits& limits = {}) {
  const auto table = read_table(text, Compass{}, limits);
  ASSERT_FALSE(table) << text;
  EXPECT_THAT(table.error().sentence(), HasSubstr(happened));
}

TEST(RefusedTables, EachReason) {
  expect_refused("", "is empty");
  expect_refused("\n \r\n\t\n", "is empty");
  expect_refused("note\nA0\n", "only one column");
  expect_refused("note,blow\nA0,\"45\nB0,45\n", "opened in the row at line 2 is never closed");
  expect_refused("note,blow\n" + std::string(1 << 20, 'x'), "line 2 is longer");
  expect_refused("note,blow\nA0,45\nB0,45\n", "more than 1 readings", {.readings = 1});
  expect_refused("note,blow\nA0,45\n", "at most", {.bytes = 10});
}

TEST(RefusedTables, NothingOfThemIsTakenAndTheyAllSaySo) {
  for (const auto text : {"note\n", "note,foo\n", "note,blow\nA0,\"45\n", "note,blow\nA0,\xFF\n"})
    EXPECT_EQ(read_table(text, Compass{}).error().kept, "Nothing was taken from the table.")
        << text;
}

}  // namespace
}  // namespace batten

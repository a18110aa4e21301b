// Whole files as spreadsheets write them, with invented figures. What must come out is written here
// by hand from the files' text.
#include "exchange/reading_table.hpp"
#include "tests/exchange/read_file.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <ostream>

namespace batten {

void PrintTo(const TableReading& reading, std::ostream* out) {
  *out << "line " << reading.line << ": " << (reading.note ? note_name(*reading.note) : "-") << ' '
       << kind_of(reading.reading).code << ' ' << reading.value << " ± " << reading.uncertainty
       << " by '" << reading.gauge << "' typed '" << reading.typed << "'";
}

namespace {

using enum Reading;
using testing::ElementsAre;
using testing::IsEmpty;

ReadingTable table_of(const std::string& name) {
  const auto table = read_table(table_file(name), Compass{});
  EXPECT_TRUE(table) << (table ? "" : table.error().sentence());
  if (!table) return {};
  EXPECT_THAT(table->bad, IsEmpty()) << table->bad.front().reason.sentence();
  return *table;
}

std::optional<Key> at(const char* note) { return *parse_key(note); }

TEST(TableFiles, LongPlain) {
  const auto table = table_of("long-plain.csv");
  EXPECT_EQ(table.form, TableForm::long_form);
  EXPECT_EQ(table.separator, ',');
  EXPECT_EQ(table.rows, 9);
  EXPECT_THAT(
      table.good,
      ElementsAre(
          TableReading{string_height, at("A0"), 187.35, 0.1, "height gauge", "187.35 mm", 2},
          TableReading{hammer_height, at("A0"), 140.9, 0, "height gauge", "140.9 mm", 3},
          TableReading{string_height, at("B0"), 187.6, 0.1, "height gauge, short foot", "187.6 mm",
                       4},
          TableReading{down_weight, at("C4"), 51, 1, "", "51 gf", 5},
          TableReading{sharp_dip, at("F#4"), 9.8, 0, "", "9.8 mm", 6},
          TableReading{sharp_dip, at("F#4"), 9.85, 0, "", "9.85 mm", 7},
          TableReading{spring_rise, at("C4"), 2, 0, "", "2 grade", 8},
          TableReading{humidity, std::nullopt, 47, 2, "hygrometer \"north wall\"", "47 %", 9},
          TableReading{pedal_free_play, std::nullopt, 3.5, 0, "", "3.5 mm", 10}));
}

TEST(TableFiles, LongWithSemicolonsDecimalCommasAndAByteOrderMark) {
  const auto table = table_of("long-semicolons.csv");
  EXPECT_EQ(table.separator, ';');
  EXPECT_EQ(table.rows, 4) << "two blank rows at the end";
  EXPECT_THAT(
      table.good,
      ElementsAre(TableReading{string_height, at("A0"), 187.35, 0, "Höhenlehre", "187,35 mm", 2},
                  TableReading{string_height, at("E1"), 188.104, 0, "Höhenlehre", "188,104 mm", 3},
                  TableReading{string_height, at("B1"), 189, 0, "", "189", 4},
                  TableReading{string_height, at("C8"), 201, 0, "", "201,0 mm", 5}));
}

TEST(TableFiles, LongInInchesAllTheSameBlow) {
  // 1 3/4 in = 44.45 mm exactly.
  const auto table = table_of("long-inches.csv");
  ASSERT_EQ(table.good.size(), 7u);
  for (const auto& reading : table.good) EXPECT_EQ(reading.value, 44.45) << reading.line;
  EXPECT_EQ(table.good[0].typed, "1 3/4\"");
  EXPECT_EQ(table.good[1].typed, "1 3/4\"");
  EXPECT_EQ(table.good[2].typed, "1 3/4 in");
}

TEST(TableFiles, WideWithUnitsInBracketsAndAHeadingOverTwoLines) {
  const auto table = table_of("wide-brackets.csv");
  EXPECT_EQ(table.form, TableForm::wide_form);
  EXPECT_EQ(table.rows, 5);
  EXPECT_EQ(table.rows_without_value, 1) << "C1";
  EXPECT_THAT(
      table.good,
      ElementsAre(TableReading{string_height, at("A0"), 187.35, 0.1, "rule", "187.35 mm", 3},
                  TableReading{hammer_height, at("A0"), 140.9, 0, "rule", "140.9 mm", 3},
                  TableReading{dip, at("A0"), 9.525, 0, "rule", "3/8 in", 3},
                  TableReading{string_height, at("B0"), 187.6, 0.2, "", "187.6 mm", 4},
                  TableReading{dip, at("B0"), 10.16, 0, "", "0.4 in", 4},
                  TableReading{string_height, at("E1"), 188.1, 0, "long\nrule", "188.1 mm", 6},
                  TableReading{hammer_height, at("E1"), 141.4, 0, "long\nrule", "141.4 mm", 6},
                  TableReading{hammer_height, at("B1"), 142, 0, "", "142 mm", 8},
                  TableReading{dip, at("B1"), 10, 0, "", "10 mm in", 8}));
}

TEST(TableFiles, WideWithTabsInUtf16) {
  const auto table = table_of("wide-tabs-utf16.txt");
  EXPECT_EQ(table.separator, '\t');
  EXPECT_THAT(table.good, ElementsAre(TableReading{blow, at("A0"), 46.5, 0, "", "46,5", 2},
                                      TableReading{let_off, at("A0"), 2.1, 0, "", "2,1", 2},
                                      TableReading{drop, at("A0"), 1.6, 0, "", "1,6", 2},
                                      TableReading{blow, at("C4"), 45.75, 0, "", "45,75", 3},
                                      TableReading{drop, at("C4"), 1.5, 0, "", "1,5", 3},
                                      TableReading{blow, at("C8"), 44, 0, "", "44", 4},
                                      TableReading{let_off, at("C8"), 1.2, 0, "", "1,2", 4}));
}

TEST(TableFiles, WideWithLinesEndedByCr) {
  const auto table = table_of("wide-line-ends-cr.csv");
  ASSERT_EQ(table.good.size(), 6u);
  EXPECT_EQ(table.good[5], (TableReading{dip, at("C1"), 9.95, 0, "", "9.95", 5}));
}

TEST(TableFiles, SeparatorNamedInTheFirstLine) {
  const auto table = table_of("separator-line.csv");
  ASSERT_EQ(table.good.size(), 6u);
  EXPECT_EQ(table.good[0], (TableReading{damper_start, at("C4"), 0.48, 0, "", "0,48", 3}));
  EXPECT_EQ(table.good[3], (TableReading{damper_start, at("D4"), 0.5, 0, "", "50 %", 4}));
}

TEST(TableFiles, ATemplateFilledInPartGivesWhatWasRead) {
  const auto table = table_of("template-partly-filled.csv");
  EXPECT_EQ(table.rows, 6);
  EXPECT_EQ(table.rows_without_value, 3);
  EXPECT_EQ(table.good.size(), 3u);
}

TEST(TableFiles, Latin1IsRefusedAndSaysHowToSaveIt) {
  const auto table = read_table(table_file("latin-1.csv"), Compass{});
  ASSERT_FALSE(table);
  EXPECT_THAT(table.error().sentence(), testing::HasSubstr("line 2"));
  EXPECT_THAT(table.error().todo, testing::HasSubstr("UTF-8"));
}

}  // namespace
}  // namespace batten

#include "exchange/cell_value.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::HasSubstr;

Result<double> value_of(std::string_view cell, ReadingUnit kept, std::string_view unit = "") {
  const auto parsed = parse_unit(unit, kept);
  if (!parsed) return tl::unexpected(parsed.error());
  return parse_cell(cell, *parsed);
}

Result<double> mm(std::string_view cell, std::string_view unit = "") {
  return value_of(cell, ReadingUnit::millimetre, unit);
}

TEST(CellValue, PlainDecimalsAreTheNearestDouble) {
  EXPECT_EQ(mm("45.2"), 45.2);
  EXPECT_EQ(mm(" +45.2 "), 45.2);
  EXPECT_EQ(mm("-0.5"), -0.5);
  EXPECT_EQ(mm("−0,5"), -0.5) << "U+2212";
  EXPECT_EQ(mm("0.1000000000000000055511151231257827"), 0.1);
  EXPECT_EQ(mm("45.2 mm"), mm("45.2"));
}

TEST(CellValue, ACommaIsADecimalMark) {
  EXPECT_EQ(mm("45,2"), 45.2);
  EXPECT_EQ(mm("45,234"), 45.234) << "no reading groups thousands";
  EXPECT_EQ(mm("45,234 mm"), 45.234);
  EXPECT_FALSE(mm("1,234.5"));
  EXPECT_FALSE(mm("1.234,5"));
  EXPECT_FALSE(mm("1,2,3"));
}

TEST(CellValue, NoReadingReachesAThousandSoThatAMarkNeverGroupsDigits) {
  for (const auto& kind : reading_kinds()) {
    EXPECT_LT(kind.possible_high, 1000) << kind.code;
    EXPECT_GT(kind.possible_low, -1000) << kind.code;
  }
}

TEST(CellValue, ExponentsAsSpreadsheetsWriteThem) {
  EXPECT_EQ(mm("4.52E+01"), 45.2);
  EXPECT_EQ(mm("1E-05"), 1e-5);
  EXPECT_FALSE(mm("1e999")) << "not finite";
}

TEST(CellValue, UnitsConvertByTheirDefinitions) {
  // The inch is 25.4 mm exactly (International Yard and Pound Agreement, 1959).
  EXPECT_EQ(mm("1 3/4\""), 44.45);
  EXPECT_EQ(mm("1 3/4", "in"), 44.45);
  EXPECT_EQ(mm("3/8", "in"), 9.525);
  EXPECT_EQ(mm("0.375", "inch"), 9.525);
  EXPECT_EQ(mm("4.52", "cm"), 45.2);
  EXPECT_EQ(mm("0.0452 m"), 45.2);
  EXPECT_EQ(mm("45,2", "MM"), 45.2);
  // 1 gf = 9.80665 mN exactly (standard gravity, 3rd CGPM 1901).
  EXPECT_EQ(value_of("0.4903325", ReadingUnit::gram_force, "N"), 50.0);
  EXPECT_EQ(value_of("50", ReadingUnit::gram_force, "g"), 50.0);
  EXPECT_EQ(value_of("50 g", ReadingUnit::gram_force), 50.0);
}

TEST(CellValue, TheCellsOwnUnitComesFirst) {
  EXPECT_EQ(mm("45.2 mm", "in"), 45.2);
  EXPECT_EQ(mm("1\"", "mm"), 25.4);
}

TEST(CellValue, FractionsGradesPercentagesTemperatures) {
  EXPECT_EQ(value_of("1/2", ReadingUnit::fraction), 0.5);
  EXPECT_EQ(value_of("50 %", ReadingUnit::fraction), 0.5);
  EXPECT_EQ(value_of("50", ReadingUnit::fraction, "%"), 0.5);
  EXPECT_EQ(value_of("2", ReadingUnit::grade), 2.0);
  EXPECT_EQ(value_of("2", ReadingUnit::grade, "grade"), 2.0);
  EXPECT_EQ(value_of("48 %", ReadingUnit::percent), 48.0);
  EXPECT_EQ(value_of("48", ReadingUnit::percent, "% RH"), 48.0);
  EXPECT_EQ(value_of("48% RH", ReadingUnit::percent), 48.0);
  EXPECT_EQ(value_of("21,5 °C", ReadingUnit::celsius), 21.5);
  EXPECT_EQ(value_of("21.5", ReadingUnit::celsius, "°C"), 21.5);
}

TEST(CellValue, WrongUnitsSayWhatWasExpected) {
  const auto grams = mm("48 g");
  ASSERT_FALSE(grams);
  EXPECT_THAT(grams.error().happened, HasSubstr("expected a length"));
  const auto column = mm("48", "g");
  ASSERT_FALSE(column);
  EXPECT_THAT(column.error().happened, HasSubstr("expected a length"));
  EXPECT_FALSE(value_of("21", ReadingUnit::celsius, "°F"));
  EXPECT_FALSE(value_of("21 mm", ReadingUnit::percent));
  EXPECT_FALSE(value_of("50 %", ReadingUnit::grade));
  EXPECT_FALSE(mm("2", "3 mm")) << "a number is no unit";
  EXPECT_FALSE(mm("2", "furlong"));
}

TEST(CellValue, WhatIsNoNumberIsRefused) {
  for (const auto cell : {"", "abc", "nan", "inf", "-", "+", ".", ",", "e5", "1e", "0x10", "1-3",
                          "3/0", "#REF!", "45.2\nmm", "--5", "+-5"})
    EXPECT_FALSE(mm(cell)) << cell;
  EXPECT_FALSE(mm(std::string(100, ' ') + std::string(100, 'x')));
}

}  // namespace
}  // namespace batten

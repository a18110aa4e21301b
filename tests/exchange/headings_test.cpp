#include "exchange/headings.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::AllOf;
using testing::HasSubstr;

Result<Headings> headings_of(std::string_view line) {
  const TableLimits limits;
  RowReader reader(line, ',', 1, limits);
  Row row;
  EXPECT_TRUE(*reader.next(row));
  return parse_headings(row);
}

void expect_refused(std::string_view line, const testing::Matcher<std::string>& sentence) {
  const auto headings = headings_of(line);
  ASSERT_FALSE(headings) << line;
  EXPECT_THAT(headings.error().sentence(), sentence);
}

TEST(Headings, LongInAnyOrderAndCase) {
  const auto headings = headings_of("GAUGE,Unit,Value , note,Reading,uncertainty");
  ASSERT_TRUE(headings) << headings.error().sentence();
  EXPECT_EQ(headings->form, TableForm::long_form);
  EXPECT_EQ(headings->long_columns.gauge, 0u);
  EXPECT_EQ(headings->long_columns.unit, 1u);
  EXPECT_EQ(headings->long_columns.value, 2u);
  EXPECT_EQ(headings->long_columns.note, 3u);
  EXPECT_EQ(headings->long_columns.reading, 4u);
  EXPECT_EQ(headings->long_columns.uncertainty, 5u);
}

TEST(Headings, WideWithCompanionsBeforeAndBehind) {
  const auto headings = headings_of(
      "string-height uncertainty (cm),note,\"String  Height\n(mm)\",string-height_gauge,,dip");
  ASSERT_TRUE(headings) << headings.error().sentence();
  EXPECT_EQ(headings->form, TableForm::wide_form);
  EXPECT_EQ(headings->wide_note, 1u);
  ASSERT_EQ(headings->wide.size(), 2u);
  EXPECT_EQ(headings->wide[0].reading, Reading::string_height);
  EXPECT_EQ(headings->wide[0].value, 2u);
  EXPECT_EQ(headings->wide[0].uncertainty, 0u);
  EXPECT_EQ(headings->wide[0].uncertainty_unit.si, 0.01);
  EXPECT_EQ(headings->wide[0].gauge, 3u);
  EXPECT_EQ(headings->wide[1].reading, Reading::dip);
  EXPECT_FALSE(headings->named[4]);
}

TEST(Headings, EveryReadingOfTheCatalogueHasItsColumn) {
  for (const auto& kind : reading_kinds()) {
    const auto headings = headings_of("note," + std::string(kind.code) + " [" +
                                      std::string(unit_symbol(kind.unit)) + "]");
    ASSERT_TRUE(headings) << headings.error().sentence();
    EXPECT_EQ(headings->wide.at(0).reading, kind.id);
    EXPECT_TRUE(headings->wide.at(0).unit.own);
  }
}

TEST(Headings, UnknownOnesAreNamedWithThoseExpected) {
  expect_refused("note,reading,value,unti,colour",
                 AllOf(HasSubstr("“unti”, “colour”"), HasSubstr("note, reading, value"),
                       HasSubstr("unit, uncertainty, gauge")));
  expect_refused("note,string-hight",
                 AllOf(HasSubstr("“string-hight”"), HasSubstr("string-height")));
}

TEST(Headings, MissingAndDoubleOnes) {
  expect_refused("reading,value", HasSubstr("no column “note”"));
  expect_refused("note,reading", HasSubstr("no column “value”"));
  expect_refused("note,value", HasSubstr("no column “reading”"));
  expect_refused("blow,dip", HasSubstr("no column “note”"));
  expect_refused("note,reading,value,Value", HasSubstr("“value” twice"));
  expect_refused("note,blow,Blow [mm]", HasSubstr("twice"));
  expect_refused("note,Note,blow", HasSubstr("twice"));
  expect_refused("note,blow,blow gauge,blow-gauge", HasSubstr("twice"));
}

TEST(Headings, UnitsAndCompanionsMustFit) {
  expect_refused("note,blow [gf]", HasSubstr("expected a length"));
  expect_refused("note,blow,blow uncertainty [gf]", HasSubstr("expected a length"));
  expect_refused("note,dip,blow uncertainty", HasSubstr("none for the reading itself"));
  expect_refused("note,dip,blow gauge", HasSubstr("none for the reading itself"));
}

TEST(Headings, TooManyColumns) {
  std::string line = "note,blow";
  for (int i = 0; i < 199; ++i) line += ",x";
  expect_refused(line, HasSubstr("more than 200 columns"));
}

}  // namespace
}  // namespace batten

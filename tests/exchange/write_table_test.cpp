#include "exchange/reading_table.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>

namespace batten {
namespace {

using enum Reading;

const std::vector<TableReading> readings = {
    {string_height, Key{1}, 187.35, 0.1, "rule", "", 0},
    {dip, Key{1}, 10, 0, "", "", 0},
    {string_height, Key{3}, 187.6, 0, "", "", 0},
    {string_height, Key{1}, 187.4, 0, "say \"a\"; or, b", "", 0},
    {humidity, std::nullopt, 47, 2, "", "", 0},
};

// RFC 4180, section 2: rules 1 (CR LF), 6 (what needs quotes), 7 (doubled quotes).
TEST(WriteTable, Long) {
  EXPECT_EQ(write_long(readings),
            "note,reading,value,unit,uncertainty,gauge\r\n"
            "A0,string-height,187.35,mm,0.1,rule\r\n"
            "A0,dip,10,mm,,\r\n"
            "B0,string-height,187.6,mm,,\r\n"
            "A0,string-height,187.4,mm,,\"say \"\"a\"\"; or, b\"\r\n"
            ",humidity,47,%,2,\r\n");
}

TEST(WriteTable, WideWithRepeatsInFurtherRows) {
  EXPECT_EQ(write_wide(readings),
            "note,string-height [mm],string-height uncertainty [mm],string-height gauge,dip [mm],"
            "humidity [%],humidity uncertainty [%]\r\n"
            ",,,,,47,2\r\n"
            "A0,187.35,0.1,rule,10,,\r\n"
            "A0,187.4,,\"say \"\"a\"\"; or, b\",,,\r\n"
            "B0,187.6,,,,,\r\n");
}

TEST(WriteTable, SemicolonsDecimalCommasAndAByteOrderMark) {
  const std::vector<TableReading> one = {readings[0]};
  EXPECT_EQ(write_long(one, {.separator = ';', .decimal_comma = true, .byte_order_mark = true}),
            "\xEF\xBB\xBFnote;reading;value;unit;uncertainty;gauge\r\n"
            "A0;string-height;187,35;mm;0,1;rule\r\n");
  EXPECT_EQ(write_wide(one, {.separator = ',', .decimal_comma = true}),
            "note,string-height [mm],string-height uncertainty [mm],string-height gauge\r\n"
            "A0,\"187,35\",\"0,1\",rule\r\n");
}

TEST(WriteTable, NoReadingsAreHeadingsOnly) {
  EXPECT_EQ(write_long({}), "note,reading,value,unit,uncertainty,gauge\r\n");
  EXPECT_EQ(write_wide({}), "note\r\n");
}

// Characters after OWASP, "CSV Injection": = + - @, tab, carriage return.
TEST(WriteTable, GaugesASpreadsheetWouldRunStandBehindAnApostrophe) {
  for (const std::string gauge : {"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "'=1", "''@x"}) {
    const std::vector<TableReading> one = {{dip, Key{1}, 10, 0, gauge, "", 0}};
    const std::string text = write_long(one);
    EXPECT_THAT(text, testing::HasSubstr("'" + gauge)) << gauge;
    EXPECT_EQ(read_table(text, Compass{})->good.at(0).gauge, gauge);
  }
}

TEST(WriteTable, OtherGaugesAndNegativeNumbersAreLeftAlone) {
  const std::vector<TableReading> one = {{jack_position, Key{1}, -0.5, 0, "'tis a = b", "", 0}};
  EXPECT_THAT(write_long(one), testing::HasSubstr("A0,jack-position,-0.5,mm,,'tis a = b\r\n"));
}

}  // namespace
}  // namespace batten

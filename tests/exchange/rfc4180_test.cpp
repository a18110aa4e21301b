// The rules of RFC 4180, section 2, by number, with the RFC's own examples, and where we differ.
#include "exchange/rows.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <string>
#include <vector>

namespace batten {
namespace {

using testing::ElementsAre;
using Cells = std::vector<std::string>;

std::vector<Cells> cells_of(std::string_view text, char separator = ',') {
  const TableLimits limits;
  RowReader reader(text, separator, 1, limits);
  Row row;
  std::vector<Cells> result;
  while (true) {
    const auto more = reader.next(row);
    EXPECT_TRUE(more) << (more ? "" : more.error().sentence());
    if (!more || !*more) return result;
    EXPECT_EQ(row.fault, RowFault::none);
    result.emplace_back(row.cells.begin(), row.cells.end());
  }
}

const Cells aaa = {"aaa", "bbb", "ccc"};
const Cells zzz = {"zzz", "yyy", "xxx"};

TEST(Rfc4180, Rule1EachRecordOnALineEndedByCrLf) {
  EXPECT_THAT(cells_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), ElementsAre(aaa, zzz));
}

TEST(Rfc4180, Rule1AlsoWithTheLineEndsOfOtherSystems) {
  // Freedom: RFC 4180 knows CR LF only.
  EXPECT_THAT(cells_of("aaa,bbb,ccc\nzzz,yyy,xxx\n"), ElementsAre(aaa, zzz));
  EXPECT_THAT(cells_of("aaa,bbb,ccc\rzzz,yyy,xxx\r"), ElementsAre(aaa, zzz));
}

TEST(Rfc4180, Rule2TheLastLineEndMayBeMissing) {
  EXPECT_THAT(cells_of("aaa,bbb,ccc\r\nzzz,yyy,xxx"), ElementsAre(aaa, zzz));
  EXPECT_THAT(cells_of("aaa,bbb,\"ccc\""), ElementsAre(aaa));
}

TEST(Rfc4180, Rule4BlanksInsideACellArePartOfIt) {
  EXPECT_THAT(cells_of("a b,\" c \"\r\n"), ElementsAre(Cells{"a b", " c "}));
}

TEST(Rfc4180, Rule4DiffersBlanksAroundAnUnquotedCellAreDropped) {
  // RFC 4180: "Spaces are considered part of a field and should not be ignored." Hand-made tables
  // put them behind separators for the eye.
  EXPECT_THAT(cells_of("A0, 45.2 , \"x\"\r\n"), ElementsAre(Cells{"A0", "45.2", "x"}));
}

TEST(Rfc4180, Rule5QuotesAroundACellAreNotPartOfIt) {
  EXPECT_THAT(cells_of("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), ElementsAre(aaa, zzz));
}

TEST(Rfc4180, Rule5DiffersAQuoteInsideAnUnquotedCellIsPlain) {
  // RFC 4180 forbids it; an inch mark looks so.
  EXPECT_THAT(cells_of("A0,1 3/4\",x\r\n"), ElementsAre(Cells{"A0", "1 3/4\"", "x"}));
}

TEST(Rfc4180, Rule6LineBreaksQuotesAndCommasInsideQuotes) {
  EXPECT_THAT(cells_of("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
              ElementsAre(Cells{"aaa", "b\r\nbb", "ccc"}, zzz));
  EXPECT_THAT(cells_of("\"a,b\",c\r\n"), ElementsAre(Cells{"a,b", "c"}));
}

TEST(Rfc4180, Rule7AQuoteInsideQuotesIsDoubled) {
  EXPECT_THAT(cells_of("\"aaa\",\"b\"\"bb\",\"ccc\"\r\n"),
              ElementsAre(Cells{"aaa", "b\"bb", "ccc"}));
  EXPECT_THAT(cells_of("\"\"\"\",\"\"\r\n"), ElementsAre(Cells{"\"", ""}));
}

TEST(Rows, EmptyCellsCountAlsoAtBothEnds) {
  EXPECT_THAT(cells_of(",,\r\n,x,\r\n"), ElementsAre(Cells{"", "", ""}, Cells{"", "x", ""}));
}

TEST(Rows, OtherSeparatorsLeaveCommasAlone) {
  EXPECT_THAT(cells_of("A0;45,2\r\n", ';'), ElementsAre(Cells{"A0", "45,2"}));
  EXPECT_THAT(cells_of("A0\t45,2\t\r\n", '\t'), ElementsAre(Cells{"A0", "45,2", ""}));
  EXPECT_THAT(cells_of("\t\tx\r\n", '\t'), ElementsAre(Cells{"", "", "x"}));
}

TEST(Rows, LinesAreThoseOfTheFile) {
  const TableLimits limits;
  RowReader reader("a,b\r\n\r\n\"c\r\nc\rc\nc\",d\n\r\re,f", ',', 1, limits);
  Row row;
  std::vector<std::pair<int, int>> lines;
  while (*reader.next(row)) lines.emplace_back(row.line, row.last_line);
  // By counting: 1 a,b · 2 blank · 3–6 the quoted cell · 7, 8 blank · 9 e,f.
  EXPECT_THAT(lines, ElementsAre(std::pair(1, 1), std::pair(3, 6), std::pair(9, 9)));
}

TEST(Rows, ForgottenQuotesAreFoundNotPairedWithLaterOnes) {
  const TableLimits limits;
  RowReader reader("a,\"b\nc,d\ne,\"f\"\ng,h\n", ',', 1, limits);
  Row row;
  ASSERT_TRUE(*reader.next(row));
  EXPECT_EQ(row.fault, RowFault::quotes);
  EXPECT_EQ(row.line, 1);
  EXPECT_EQ(row.last_line, 3);
  ASSERT_TRUE(*reader.next(row));
  EXPECT_EQ(row.fault, RowFault::none);
  EXPECT_EQ(row.line, 4);
}

TEST(Rows, QuotesNeverClosedStopWithTheLineTheyBeginIn) {
  const TableLimits limits;
  RowReader reader("a,b\nc,\"d\ne,f\n", ',', 1, limits);
  Row row;
  ASSERT_TRUE(*reader.next(row));
  const auto more = reader.next(row);
  ASSERT_FALSE(more);
  EXPECT_THAT(more.error().happened, testing::HasSubstr("line 2"));
}

TEST(Rows, LimitsHold) {
  const TableLimits limits{.cell_bytes = 8, .columns = 3};
  Row row;
  {
    RowReader reader("12345678,b\n123456789,b\nc,d\n", ',', 1, limits);
    ASSERT_TRUE(*reader.next(row));
    EXPECT_EQ(row.fault, RowFault::none);
    ASSERT_TRUE(*reader.next(row));
    EXPECT_EQ(row.fault, RowFault::cell_too_long);
    ASSERT_TRUE(*reader.next(row));
    EXPECT_EQ(row.fault, RowFault::none);
  }
  {
    RowReader reader("a,b,c,,\na,b,c,d\n", ',', 1, limits);
    ASSERT_TRUE(*reader.next(row));
    EXPECT_FALSE(row.more_cells) << "blank cells beyond the last column are nothing";
    ASSERT_TRUE(*reader.next(row));
    EXPECT_TRUE(row.more_cells);
    EXPECT_EQ(row.cells.size(), 3u);
  }
}

TEST(Rows, ARowLongerThanAllItsCellsMayBeStopsTheReading) {
  const TableLimits limits{.cell_bytes = 8, .columns = 3};
  const std::string text = "a,b\n\"" + std::string(30, '\n') + "\",b\n";
  RowReader reader(text, ',', 1, limits);
  Row row;
  ASSERT_TRUE(*reader.next(row));
  EXPECT_FALSE(reader.next(row));
}

TEST(Separator, TheOneThatStandsMostOftenInTheFirstRow) {
  const auto found = [](std::string_view text) {
    const auto separator = find_separator(text);
    return separator ? separator->separator : '?';
  };
  EXPECT_EQ(found("note,reading,value\nA0;b;c;d;e;f"), ',');
  EXPECT_EQ(found("note;reading;value\n"), ';');
  EXPECT_EQ(found("note\treading\tvalue\n"), '\t');
  EXPECT_EQ(found("\r\n \r\nnote;value"), ';') << "blank rows first";
  EXPECT_EQ(found("\"a,b,c\nd,e\";x\n"), ';') << "not inside quotes, also over lines";
  EXPECT_EQ(found("note"), '?');
  EXPECT_EQ(found(""), '?');
  EXPECT_EQ(find_separator("sep=;\r\nnote,a,b;c\r\n")->separator, ';');
  EXPECT_EQ(find_separator("sep=;\r\nnote,a,b;c\r\n")->skip, 7u);
}

}  // namespace
}  // namespace batten

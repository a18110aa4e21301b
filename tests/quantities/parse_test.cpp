// What is accepted and what is refused. Exact values lean on integer arithmetic, on the C library's
// strtod (correctly rounded in glibc), and on the 1959 inch of 25.4 mm.
#include "core/quantities/text.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <cstdlib>
#include <gmock/gmock.h>
#include <locale>
#include <string>
#include <vector>

namespace batten {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

struct Accepted {
  std::string text;
  double millimetres;
};

TEST(ParseLength, AcceptsWhatAHandWrites) {
  const std::vector<Accepted> table{
      {"45", 45},
      {"45.2", 45.2},
      {"45,2", 45.2},
      {"45.2 mm", 45.2},
      {"45.2mm", 45.2},
      {"  45.2\tmm  ", 45.2},
      {"45.2\u202fmm", 45.2},
      {"45.2\u00a0mm", 45.2},
      {"45.2 MM", 45.2},
      {"4.52 cm", 45.2},
      {"0.0452 m", 45.2},
      {"-0.5", -0.5},
      {"\u22120.5", -0.5},
      {"- 0.5", -0.5},
      {"+0.12", 0.12},
      {".4", 0.4},
      {",4", 0.4},
      {",400", 0.4},
      {"0,400", 0.4},
      {"00,400", 0.4},
      {"1,23", 1.23},
      {"1,2345", 1.2345},
      {"1.234", 1.234},
      {"1 3/4\"", 44.45},
      {"1-3/4\"", 44.45},
      {"1¾\"", 44.45},
      {"1 ¾ in", 44.45},
      {"1¾″", 44.45},
      {"1¾”", 44.45},
      {"1¾''", 44.45},
      {"1 3/4 inches", 44.45},
      {"-1 3/4 in", -44.45},
      {"0.400 in", 10.16},
      {"0.400 inch", 10.16},
      {"3/64 in", 1.190625},
      {"3\u204464 in", 1.190625},
      {"3 / 64 in", 1.190625},
      {"7/4 in", 44.45},
      {"1/1000 in", 0.0254},
      {"⅛", 0.125},
      {"0", 0},
  };
  for (const Accepted& row : table) {
    const Result<Length> length = parse_length(row.text);
    ASSERT_TRUE(length) << row.text << ": " << length.error().sentence();
    EXPECT_DOUBLE_EQ(length->in(millimetre), row.millimetres) << row.text;
  }
}

struct Refused {
  std::string text;
  std::string reason;  // part of what happened
};

TEST(ParseLength, RefusesWithAReason) {
  const std::vector<Refused> table{
      {"", "Nothing was written."},
      {" \t\u00a0", "Nothing was written."},
      {"abc", "holds no number"},
      {"mm", "holds no number"},
      {"-", "holds no number"},
      {".", "holds no number"},
      {"nan", "holds no number"},
      {"inf", "holds no number"},
      {"1,234", "could be 1234 or 1.234"},
      {"-1,234 mm", "could be 1234 or 1.234"},
      {"1,234.5", "more than one decimal mark"},
      {"1.234,5", "more than one decimal mark"},
      {"1.2.3", "more than one decimal mark"},
      {"45.", "no digit behind the decimal mark"},
      {"45. mm", "no digit behind the decimal mark"},
      {"1e-3", "no unit known here, “e-3”"},
      {"0x10", "no unit known here, “x10”"},
      {"3/0 in", "divides by zero"},
      {"1 3/0 in", "divides by zero"},
      {"3/", "no whole number behind the stroke"},
      {"3/1001 in", "finer than a 1000th"},
      {"1 5/4 in", "fraction of one or more"},
      {"1 64/64 in", "fraction of one or more"},
      {"1.5 3/4 in", "fraction behind a number that is not whole"},
      {"45 46", "more than one number"},
      {"45 -46", "more than one number"},
      {"1 - 3/4 in", "more than one number"},
      {"3/64/2", "no unit known here, “/2”"},
      {"45 furlongs", "no unit known here, “furlongs”"},
      {"45 mmm", "no unit known here, “mmm”"},
      {std::string(41, '1'), "longer than 40 characters"},
      {"0." + std::string(39, '1'), "longer than 40 characters"},
      {"1 1/" + std::string(40, '0') + "2", "no whole number behind the stroke"},
      {"48 g", "“48 g” is a mass; expected a length: mm, cm, m, in or \"."},
      {"48 gf", "is a force; expected a length"},
      {"3 N·mm", "is a torque; expected a length"},
      {"90°", "is an angle; expected a length"},
      {"5 min", "is a time; expected a length"},
      {"1/8 turn", "is a part of a turn; expected a length"},
  };
  for (const Refused& row : table) {
    const Result<Length> length = parse_length(row.text);
    ASSERT_FALSE(length) << row.text;
    EXPECT_THAT(length.error().happened, HasSubstr(row.reason)) << row.text;
    EXPECT_FALSE(length.error().todo.empty()) << row.text;
  }
}

TEST(ParseLength, AssumesTheUnitAskedForWhenNoneIsWritten) {
  EXPECT_EQ(parse_length("1 3/4", inch), 1.75 * inch);
  EXPECT_EQ(parse_length("45 mm", inch), 45 * millimetre);
}

TEST(ParseLength, KeepsAMessageShortAndReadable) {
  const Result<Length> length = parse_length("\x01\xff" + std::string(5000, 'x'));
  ASSERT_FALSE(length);
  EXPECT_THAT(length.error().happened, StartsWith("“??xxx"));
  EXPECT_LT(length.error().happened.size(), 100U);
}

TEST(ParseOthers, ReadTheirUnits) {
  EXPECT_DOUBLE_EQ(parse_mass("48 g")->in(gram), 48);
  EXPECT_DOUBLE_EQ(parse_mass("0,048 kg")->in(gram), 48);
  // International Yard and Pound Agreement, 1959.
  EXPECT_DOUBLE_EQ(parse_mass("16 oz")->in(kilogram), 0.45359237);
  // A touch weight of 48 g presses with 48 gram-force; 3rd CGPM, 1901: 9.80665 m/s².
  for (const char* text : {"48", "48 g", "48 gf", "0.048 kgf", "0.4707192 N", "470.7192 mN"}) {
    EXPECT_DOUBLE_EQ(parse_force(text)->in(newton), 48 * 9.80665e-3) << text;
  }
  for (const char* text : {"12", "12 N·mm", "12 N⋅mm", "12 Nmm", "12 N mm", "0.012 N·m", "0.012 Nm",
                           "0.012 N m", "12 mN·m", "12 mNm"}) {
    EXPECT_DOUBLE_EQ(parse_torque(text)->in(newton_metre), 0.012) << text;
  }
  EXPECT_DOUBLE_EQ(parse_angle("90°")->in(degree), 90);
  EXPECT_DOUBLE_EQ(parse_angle("90 deg")->in(degree), 90);
  EXPECT_DOUBLE_EQ(parse_angle("250 mrad")->in(radian), 0.25);
  EXPECT_DOUBLE_EQ(parse_duration("1 1/2 h")->in(minute), 90);
  EXPECT_DOUBLE_EQ(parse_duration("90")->in(second), 5400);
  EXPECT_DOUBLE_EQ(parse_duration("73 ms")->in(second), 0.073);
  EXPECT_EQ(parse_turns("1/8 turn"), 0.125 * turn);
  EXPECT_EQ(parse_turns("1¼ turns"), 1.25 * turn);
  EXPECT_EQ(parse_turns("-1/64"), -turn / 64);
  EXPECT_EQ(parse_turns("90°"), 0.25 * turn);
  EXPECT_EQ(parse_turns("1 rev"), turn);
}

TEST(ParseOthers, NameWhatWasExpected) {
  EXPECT_THAT(parse_mass("0.5 N").error().happened,
              HasSubstr("is a force; expected a mass: g, kg or oz"));
  EXPECT_THAT(parse_force("5 mm").error().happened,
              HasSubstr("is a length; expected a force: gf, g, kgf, N or mN"));
  EXPECT_THAT(parse_torque("5 N").error().happened, HasSubstr("is a force; expected a torque"));
  EXPECT_THAT(parse_angle("1 turn").error().happened, HasSubstr("expected an angle"));
  EXPECT_THAT(parse_duration("1 turn").error().happened, HasSubstr("expected a time"));
  EXPECT_THAT(parse_turns("3 mm").error().happened, HasSubstr("is a length; expected turns"));
  EXPECT_THAT(parse_number("48 g").error().happened,
              HasSubstr("“g” behind the number; expected a bare number"));
}

TEST(ParseNumber, ReadsABareNumber) {
  EXPECT_EQ(parse_number("0,5"), 0.5);
  EXPECT_EQ(parse_number(" 1/2 "), 0.5);
  EXPECT_FALSE(parse_number("50 %"));
}

TEST(Exactness, EverySixtyFourthToTenInchesIsReturnedExactly) {
  for (int sixty_fourths = 0; sixty_fourths <= 640; ++sixty_fourths) {
    const int whole = sixty_fourths / 64;
    const int part = sixty_fourths % 64;
    for (const std::string& text :
         {fmt::format("{}/64", sixty_fourths), fmt::format("{} {}/64", whole, part),
          fmt::format("{}-{}/64", whole, part)}) {
      // k/64 is a binary fraction, so plain division has nothing to round.
      ASSERT_EQ(parse_number(text), sixty_fourths / 64.0) << text;
      ASSERT_EQ(parse_length(text + " in"), sixty_fourths / 64.0 * inch) << text;
    }
  }
}

TEST(Exactness, FractionsAreRoundedOnce) {
  for (int denominator = 1; denominator <= 1000; ++denominator) {
    for (int numerator = denominator % 7; numerator < denominator;
         numerator += 1 + denominator / 9) {
      for (const int whole : {0, 1, 45, 999'999}) {
        const std::string text = fmt::format("{} {}/{}", whole, numerator, denominator);
        const Result<double> value = parse_number(text);
        ASSERT_TRUE(value) << text;
        // The residual value × denominator − numerator is exact in a fused multiply-add, and no
        // double lies nearer the true quotient when it is at most half a last place.
        const double over = static_cast<double>(whole) * denominator + numerator;
        const double residual = std::fma(*value, denominator, -over);
        const double last_place = std::nextafter(*value, HUGE_VAL) - *value;
        ASSERT_LE(std::fabs(residual), 0.5 * last_place * denominator) << text;
      }
    }
  }
}

RC_GTEST_PROP(Exactness, DecimalsAreWhatStrtodReads, ()) {
  const auto whole = *rc::gen::inRange<long long>(0, 1'000'000'000'000);
  const auto behind = *rc::gen::inRange<long long>(0, 1'000'000'000'000);
  const std::string text = fmt::format("{}.{:012}", whole, behind);
  RC_ASSERT(parse_number(text).value() == std::strtod(text.c_str(), nullptr));
}

RC_GTEST_PROP(Robustness, AnyTextGivesAFiniteValueOrAReason, ()) {
  const auto piece =
      rc::gen::element<std::string>("1", "23", "0", ".", ",", "/", " ", "-", "\u2212", "+", "¾",
                                    "\u2044", "mm", "\"", "'", "N", "°", "\xe2", "\xff");
  std::string text;
  for (const std::string& part : *rc::gen::container<std::vector<std::string>>(piece)) text += part;
  const Result<Length> length = parse_length(text);
  const bool answered = length ? std::isfinite(length->si()) : !length.error().happened.empty();
  RC_ASSERT(answered);
}

struct CommaAndGroups : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST(Locale, ChangesNothing) {
  const std::locale before =
      std::locale::global(std::locale(std::locale(), new CommaAndGroups));  // the locale owns it
  const auto length = parse_length("1234.5 mm");
  const std::string text = print_millimetres(1234.5 * millimetre);
  std::locale::global(before);
  EXPECT_EQ(length, 1234.5 * millimetre);
  EXPECT_EQ(text, "1234.50\u202fmm");
}

}  // namespace
}  // namespace batten

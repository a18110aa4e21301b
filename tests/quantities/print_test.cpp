#include "core/quantities/text.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>
#include <string>

namespace batten {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

TEST(PrintNumber, WritesSignMarkAndDecimals) {
  EXPECT_EQ(print_number(45.2), "45.20");
  EXPECT_EQ(print_number(45.2, {.decimals = 1, .decimal_comma = true}), "45,2");
  EXPECT_EQ(print_number(-0.5, {.decimals = 1}), "\u22120.5");
  EXPECT_EQ(print_number(0.5, {.decimals = 1, .plus = true}), "+0.5");
  EXPECT_EQ(print_number(45, {.decimals = 0}), "45");
}

TEST(PrintNumber, NeverWritesANegativeZero) {
  EXPECT_EQ(print_number(-0.001), "0.00");
  EXPECT_EQ(print_number(-0.0), "0.00");
  EXPECT_EQ(print_number(0.001, {.plus = true}), "0.00");
  EXPECT_EQ(print_number(-0.4, {.decimals = 0}), "0");
  EXPECT_EQ(print_number(-0.006), "\u22120.01");
}

TEST(PrintNumber, ShowsADashForNoReading) {
  EXPECT_EQ(print_number(infinity), "–");
  EXPECT_EQ(print_millimetres(std::nan("") * millimetre), "–");
  EXPECT_EQ(print_turns(infinity * turn), "–");
  EXPECT_EQ(print_inch_fraction(-infinity * inch), "–");
}

TEST(PrintUnits, FollowTheNumberBehindAThinSpace) {
  EXPECT_EQ(print_millimetres(45.2 * millimetre), "45.20\u202fmm");
  EXPECT_EQ(print_inches(0.4 * inch), "0.400\u202fin");
  EXPECT_EQ(print_gram_force(48 * gram_force), "48\u202fgf");
  EXPECT_EQ(print_grams(11.74 * gram), "11.7\u202fg");
  EXPECT_EQ(print_newtons(8 * newton), "8.00\u202fN");
  EXPECT_EQ(print_newton_millimetres(1.01e-3 * newton_metre), "1.01\u202fN·mm");
  EXPECT_EQ(print_degrees(-12.5 * degree), "\u221212.5°");
  EXPECT_EQ(print_milliseconds(0.0732 * second), "73.2\u202fms");
}

TEST(PrintFraction, IsInLowestTerms) {
  EXPECT_EQ(print_fraction(0, 64), "0");
  EXPECT_EQ(print_fraction(32, 64), "½");
  EXPECT_EQ(print_fraction(8, 64), "⅛");
  EXPECT_EQ(print_fraction(3, 64), "3\u204464");
  EXPECT_EQ(print_fraction(112, 64), "1¾");
  EXPECT_EQ(print_fraction(67, 64), "1\u202f3\u204464");
  EXPECT_EQ(print_fraction(128, 64), "2");
  EXPECT_EQ(print_fraction(-8, 64), "\u2212⅛");
  EXPECT_EQ(print_fraction(2, 3), "⅔");
  EXPECT_EQ(print_fraction(1, 7), "1\u20447");
  EXPECT_EQ(print_fraction(std::numeric_limits<long>::min(), 1), "\u22129223372036854775808");
}

TEST(PrintInchFraction, RoundsToTheNearestPart) {
  EXPECT_EQ(print_inch_fraction(44.45 * millimetre), "1¾″");
  EXPECT_EQ(print_inch_fraction(-0.125 * inch), "\u2212⅛″");
  EXPECT_EQ(print_inch_fraction(Length{}), "0″");
  EXPECT_EQ(print_inch_fraction(-0.001 * inch), "0″");
  // Halves go away from zero, also after the conversion has left the half a last place short.
  for (int odd = 1; odd < 1280; odd += 2) {
    ASSERT_EQ(print_inch_fraction(odd / 128.0 * inch), print_fraction((odd + 1) / 2, 64) + "″");
    ASSERT_EQ(print_inch_fraction(-odd / 128.0 * inch), print_fraction(-(odd + 1) / 2, 64) + "″");
  }
  EXPECT_EQ(print_inch_fraction(1e20 * inch), print_inches(1e20 * inch));
}

TEST(PrintTurns, SaysTheAmountOnly) {
  EXPECT_EQ(print_turns(turn / 8), "⅛ turn");
  EXPECT_EQ(print_turns(-turn / 8), "⅛ turn");
  EXPECT_EQ(print_turns(3 * turn / 64), "3\u204464 turn");
  EXPECT_EQ(print_turns(turn), "1 turn");
  EXPECT_EQ(print_turns(1.25 * turn), "1¼ turns");
  EXPECT_EQ(print_turns(turn / 1000), "0 turns");
  EXPECT_EQ(print_turns(turn / 3, 12), "⅓ turn");
}

TEST(RoundTurns, GoesToTheNearestPartHalvesAwayFromZero) {
  EXPECT_EQ(round_turns(0.13 * turn, 64), 0.125 * turn);
  EXPECT_EQ(round_turns(turn / 128, 64), turn / 64);
  EXPECT_EQ(round_turns(-turn / 128, 64), -turn / 64);
  EXPECT_EQ(round_turns(turn / 6, 3), turn / 3);
  EXPECT_EQ(round_turns(0.4 * turn, 1), Turns{});
}

NumberStyle any_style() {
  return {.decimals = *rc::gen::inRange(0, 13),
          .decimal_comma = *rc::gen::arbitrary<bool>(),
          .plus = *rc::gen::arbitrary<bool>()};
}

double any_value() {
  const long long billionths = *rc::gen::inRange(-1'000'000'000'000, 1'000'000'000'001);
  return static_cast<double>(billionths) / 1e9;
}

// Half a unit of the last decimal, and what converting to SI and back can add.
double allowed(const NumberStyle& style, double value) {
  return 0.5 * std::pow(10.0, -style.decimals) +
         4 * std::numeric_limits<double>::epsilon() * std::fabs(value);
}

// The one text that is not read back: three digits behind a comma could group thousands.
bool is_ambiguous(const NumberStyle& style, double value) {
  return style.decimal_comma && style.decimals == 3 && std::fabs(value) >= 0.9995;
}

RC_GTEST_PROP(RoundTrip, OfNumbersIsWithinHalfAUnitOfTheLastDecimal, ()) {
  const NumberStyle style = any_style();
  const double value = any_value();
  RC_PRE(!is_ambiguous(style, value));
  const auto read = parse_number(print_number(value, style));
  RC_ASSERT(read.has_value());
  RC_ASSERT(std::fabs(*read - value) <= allowed(style, value));
}

RC_GTEST_PROP(RoundTrip, OfQuantitiesIsWithinHalfAUnitOfTheLastDecimal, ()) {
  const NumberStyle style = any_style();
  const double value = any_value();
  RC_PRE(!is_ambiguous(style, value));
  const auto check = [&](const auto& read, auto unit) {
    RC_ASSERT(read.has_value());
    RC_ASSERT(std::fabs(read->in(unit)-value) <= allowed(style, value));
  };
  check(parse_length(print_millimetres(value * millimetre, style)), millimetre);
  check(parse_length(print_inches(value * inch, style)), inch);
  check(parse_mass(print_grams(value * gram, style)), gram);
  check(parse_force(print_gram_force(value * gram_force, style)), gram_force);
  check(parse_force(print_newtons(value * newton, style)), newton);
  check(parse_torque(print_newton_millimetres(value * newton_millimetre, style)),
        newton_millimetre);
  check(parse_angle(print_degrees(value * degree, style)), degree);
  check(parse_duration(print_milliseconds(value * millisecond, style)), millisecond);
}

RC_GTEST_PROP(RoundTrip, OfFractionsIsExact, ()) {
  const int denominator = 1 << *rc::gen::inRange(1, 8);
  const int count = *rc::gen::inRange(-2000, 2001);
  const Length length = static_cast<double>(count) / denominator * inch;
  RC_ASSERT(parse_length(print_inch_fraction(length, denominator)).value() == length);
  const int parts = *rc::gen::inRange(1, 257);
  const int some = *rc::gen::inRange(0, 2001);
  const Turns turns = static_cast<double>(some) / parts * turn;
  RC_ASSERT(parse_turns(print_turns(turns, parts)).value() == turns);
}

}  // namespace
}  // namespace batten

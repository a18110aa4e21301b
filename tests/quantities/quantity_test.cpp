#include "core/quantities/quantity.hpp"

#include <gtest/gtest.h>

#include <concepts>
#include <numbers>

namespace batten {
namespace {

template <class A, class B>
concept Addable = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Comparable = requires(A a, B b) {
  a < b;
};

// What the compiler must refuse is refused, and what it must take is taken.
static_assert(Addable<Mass, Mass>);
static_assert(!Addable<Mass, Force>, "a gram is not a newton");
static_assert(!Addable<Length, Turns>, "a millimetre is not a turn");
static_assert(!Addable<Angle, Turns>);
static_assert(!Addable<Length, double>, "a bare number has no unit");
static_assert(!Comparable<Mass, Force>);
static_assert(!Comparable<Length, double>);
static_assert(!std::convertible_to<double, Length>);
static_assert(!std::constructible_from<Length, double>);
static_assert(!std::convertible_to<Length, double>);
static_assert(!std::convertible_to<Force, Torque>);

static_assert(std::same_as<decltype(newton * metre), Torque>);
static_assert(std::same_as<decltype(millimetre / turn), LengthPerTurn>);
static_assert(std::same_as<decltype((millimetre / turn) * turn), Length>);
static_assert(std::same_as<decltype(inch / millimetre), double>);
static_assert(std::same_as<decltype(newton_metre / newton), Length>);

TEST(Units, AreTheirDefinitions) {
  // International Yard and Pound Agreement, 1959: the inch is 25.4 mm, the pound 0.45359237 kg, and
  // an avoirdupois ounce one sixteenth of it.
  EXPECT_DOUBLE_EQ(inch.in(millimetre), 25.4);
  EXPECT_DOUBLE_EQ((16 * ounce).in(gram), 453.59237);
  // 3rd CGPM, 1901: standard gravity is 9.80665 m/s².
  EXPECT_DOUBLE_EQ(gram_force.si(), 1e-3 * 9.80665);
  EXPECT_DOUBLE_EQ((1000 * gram_force).in(newton), 9.80665);
  // SI Brochure, 9th edition, table 8.
  EXPECT_DOUBLE_EQ((180 * degree).in(radian), std::numbers::pi);
  EXPECT_DOUBLE_EQ(minute.in(second), 60);
  EXPECT_DOUBLE_EQ(newton_millimetre.in(newton_metre), 1e-3);
}

TEST(Quantity, CarriesItsDimensionThroughProducts) {
  const LengthPerTurn pitch = 9 * millimetre / turn;
  EXPECT_DOUBLE_EQ((pitch * (0.125 * turn)).in(millimetre), 1.125);
  EXPECT_DOUBLE_EQ(((4.5 * millimetre) / pitch).in(turn), 0.5);
  EXPECT_DOUBLE_EQ(((50 * gram_force) * (250 * millimetre)).in(newton_millimetre),
                   50 * 9.80665e-3 * 250);
}

TEST(Quantity, AddsNegatesAndCompares) {
  Length height = 45 * millimetre;
  height += 2 * millimetre;
  height -= 1 * millimetre;
  EXPECT_DOUBLE_EQ(height.in(millimetre), 46);
  EXPECT_LT(-height, Length{});
  EXPECT_EQ(abs(-height), height);
  EXPECT_EQ(abs(-0.25 * turn), 0.25 * turn);
}

}  // namespace
}  // namespace batten

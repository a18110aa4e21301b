#include "workshop/chance.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace batten::workshop {
namespace {

// ISO/IEC 14882:2020, [rand.predef]: the 10000th consecutive invocation of a default-constructed
// mt19937_64 (seed 5489) gives 9981545732273789042.
TEST(Chance, IsTheStandardsGenerator) {
  std::mt19937_64 engine;
  Chance chance(std::mt19937_64::default_seed);
  double uniform = 0;
  std::uint64_t raw = 0;
  for (int i = 0; i < 10'000; ++i) {
    raw = engine();
    uniform = chance.uniform();
  }
  EXPECT_EQ(raw, 9981545732273789042U);
  // Its upper 53 bits as a fraction.
  EXPECT_EQ(uniform, static_cast<double>(9981545732273789042U >> 11) / 9007199254740992.0);
}

constexpr int reading_count = 200'000;

// Moments of a distribution's sample: mean, variance, skewness, kurtosis.
template <class Draw>
std::array<double, 4> moments(Draw draw) {
  std::array<double, 5> sum{};
  for (int i = 0; i < reading_count; ++i) {
    const double x = draw();
    double power = 1;
    for (double& s : sum) {
      s += power;
      power *= x;
    }
  }
  for (double& s : sum) s /= reading_count;
  const double m = sum[1], variance = sum[2] - m * m;
  const double third = sum[3] - 3 * m * sum[2] + 2 * m * m * m;
  const double fourth = sum[4] - 4 * m * sum[3] + 6 * m * m * sum[2] - 3 * m * m * m * m;
  return {m, variance, third / std::pow(variance, 1.5), fourth / (variance * variance)};
}

// Moments of a normal sample have variances 1/n, 2/n, 6/n, 24/n (Kendall & Stuart, The Advanced
// Theory of Statistics, vol. 1, ch. 10 and 12; from memory); four standard errors allowed.
TEST(Chance, NormalHasTheNormalsMoments) {
  Chance chance(1);
  const auto m = moments([&] { return chance.normal(); });
  const double n = reading_count;
  EXPECT_NEAR(m[0], 0, 4 * std::sqrt(1 / n));
  EXPECT_NEAR(m[1], 1, 4 * std::sqrt(2 / n));
  EXPECT_NEAR(m[2], 0, 4 * std::sqrt(6 / n));
  EXPECT_NEAR(m[3], 3, 4 * std::sqrt(24 / n));
}

// Share of draws beyond +-x.
template <class Draw>
double beyond(double x, Draw draw) {
  int count = 0;
  for (int i = 0; i < reading_count; ++i) count += std::abs(draw()) > x ? 1 : 0;
  return static_cast<double>(count) / reading_count;
}

// Tables: normal 1.960; Student's t with 3, 4 and 10 degrees of freedom 3.182, 2.776, 2.228
// (Abramowitz & Stegun, tables 26.1 and 26.10): 5 % lie beyond. Four standard errors allowed.
TEST(Chance, TailsAreThoseOfTheTables) {
  const double allowed = 4 * std::sqrt(0.05 * 0.95 / reading_count) + 0.0002;
  Chance chance(2);
  EXPECT_NEAR(beyond(1.960, [&] { return chance.normal(); }), 0.05, allowed);
  EXPECT_NEAR(beyond(3.182, [&] { return chance.student(3); }), 0.05, allowed);
  EXPECT_NEAR(beyond(2.776, [&] { return chance.student(4); }), 0.05, allowed);
  EXPECT_NEAR(beyond(2.228, [&] { return chance.student(10); }), 0.05, allowed);
}

// Mean 1/2, variance 1/12, kurtosis 9/5 (closed forms).
TEST(Chance, UniformHasTheUniformsMoments) {
  Chance chance(3);
  double least = 1, most = 0;
  const auto m = moments([&] {
    const double x = chance.uniform();
    least = std::min(least, x);
    most = std::max(most, x);
    return x;
  });
  EXPECT_NEAR(m[0], 0.5, 4 * std::sqrt(1.0 / 12 / reading_count));
  EXPECT_NEAR(m[1], 1.0 / 12, 0.001);
  EXPECT_NEAR(m[3], 1.8, 0.02);
  EXPECT_GE(least, 0);
  EXPECT_LT(most, 1);
}

// Each of five values a fifth of the time.
TEST(Chance, BetweenTakesBothEndsAndNoMore) {
  Chance chance(4);
  std::array<int, 5> count{};
  for (int i = 0; i < reading_count; ++i) {
    const int x = chance.between(20, 24);
    ASSERT_GE(x, 20);
    ASSERT_LE(x, 24);
    ++count[static_cast<std::size_t>(x - 20)];
  }
  for (int c : count)
    EXPECT_NEAR(static_cast<double>(c) / reading_count, 0.2,
                4 * std::sqrt(0.2 * 0.8 / reading_count));
}

TEST(Chance, RepeatsWithItsSeedOnly) {
  Chance a(5), b(5), c(6);
  const double x = a.normal();
  EXPECT_EQ(x, b.normal());
  EXPECT_NE(x, c.normal());
}

}  // namespace
}  // namespace batten::workshop

#include "core/regulation/drift/chances.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

namespace batten::drift {
namespace {

TEST(DriftChances, TheTableIsTheNormalDistribution) {
  const Normal normal;
  for (double x = -8; x <= 8; x += 0.0137)
    EXPECT_NEAR(normal.below(x), 0.5 * std::erfc(-x / std::numbers::sqrt2), 3e-7) << x;
  // Abramowitz & Stegun, table 26.1: P(1.96) = 0.9750021.
  EXPECT_NEAR(normal.outside(0, 1, 0, 1.96), 2 * (1 - 0.9750021), 1e-6);
  EXPECT_NEAR(normal.outside(5, 0.1, 5, 100), 0, 1e-12);
  EXPECT_NEAR(normal.outside(7, 1e-6, 5, 1), 1, 1e-12);
}

TEST(DriftChances, FixedNumbersAreNormal) {
  double sum = 0, square = 0, beyond = 0;
  constexpr std::size_t count = 32768;
  for (std::size_t i = 0; i < count; ++i) {
    const double z = fixed_normal(i);
    sum += z;
    square += z * z;
    beyond += std::abs(z) > 1.959964 ? 1 : 0;
  }
  EXPECT_NEAR(sum / count, 0, 4 / std::sqrt(count));
  EXPECT_NEAR(square / count, 1, 4 * std::sqrt(2.0 / count));
  EXPECT_NEAR(beyond / count, 0.05, 4 * std::sqrt(0.05 * 0.95 / count));
  EXPECT_EQ(fixed_normal(7), fixed_normal(7 + count));
}

TEST(DriftChances, QuantileByNearestRank) {
  std::array<double, 5> list{5, 1, 4, 2, 3};
  EXPECT_EQ(quantile(list, 0.5), 3);
  EXPECT_EQ(quantile(list, 0), 1);
  EXPECT_EQ(quantile(list, 1), 5);
  EXPECT_EQ(quantile(list, 0.75), 4);
}

}  // namespace
}  // namespace batten::drift

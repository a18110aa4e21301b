#include "core/numerics/distributions.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <gmock/gmock.h>
#include <limits>
#include <numbers>
#include <utility>
#include <vector>

namespace batten {
namespace {

// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2: critical values of Student's t, upper
// 0.025: 12.706 (1), 4.303 (2), 2.776 (4), 2.228 (10), 2.000 (60).
TEST(Distributions, StudentAsTabled) {
  for (const auto& [degrees, t] :
       {std::pair{1.0, 12.706}, {2.0, 4.303}, {4.0, 2.776}, {10.0, 2.228}, {60.0, 2.000}}) {
    EXPECT_GT(student_beyond(t - 0.0006, degrees), 0.05) << degrees;
    EXPECT_LT(student_beyond(t + 0.0006, degrees), 0.05) << degrees;
  }
  // One degree is Cauchy's distribution, whose tails are known in closed form.
  for (const double t : {0.1, 1.0, 3.0, 50.0})
    EXPECT_NEAR(student_beyond(t, 1), 1 - 2 * std::atan(t) / std::numbers::pi, 1e-12);
  EXPECT_NEAR(student_beyond(0, 7), 1, 1e-12);
  EXPECT_EQ(student_beyond(-2, 5), student_beyond(2, 5));
}

// The same, 1.3.6.7.4: upper 0.05 of chi-squared: 3.841 (1), 5.991 (2), 18.307 (10), 67.505 (50).
TEST(Distributions, ChiSquaredAsTabled) {
  for (const auto& [degrees, x] :
       {std::pair{1.0, 3.841}, {2.0, 5.991}, {10.0, 18.307}, {50.0, 67.505}}) {
    EXPECT_GT(chi_squared_above(x - 0.0006, degrees), 0.05) << degrees;
    EXPECT_LT(chi_squared_above(x + 0.0006, degrees), 0.05) << degrees;
  }
  // Two degrees: exp(−x/2); one: both tails of the normal distribution.
  for (const double x : {0.01, 0.7, 2.0, 9.0, 60.0}) {
    EXPECT_NEAR(chi_squared_above(x, 2) / std::exp(-x / 2), 1, 1e-10);
    EXPECT_NEAR(chi_squared_above(x, 1) / normal_beyond(std::sqrt(x)), 1, 1e-9);
  }
}

// Benjamini and Hochberg's own example, section 3.2 of the paper (figures from memory): fifteen
// comparisons, of which the first four are rejected at 0.05.
TEST(Distributions, FindingsAsInThePaper) {
  const std::vector<double> chances{0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344,
                                    0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.0000};
  const auto found = findings_at_rate(chances, 0.05);
  for (std::size_t i = 0; i < chances.size(); ++i) EXPECT_EQ(found[i], i < 4) << i;
}

TEST(Distributions, WhatCannotBeToldIsNoLook) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THAT(findings_at_rate(std::vector{nan, 0.04, nan}, 0.05),
              ::testing::ElementsAre(false, true, false));
  EXPECT_TRUE(findings_at_rate({}, 0.05).empty());
}

}  // namespace
}  // namespace batten

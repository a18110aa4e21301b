// The curves a map is drawn with, against closed forms.
#include "core/regulation/brief/curve.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten::brief {
namespace {

// A cubic comes back exactly from five points (closed form).
TEST(Curve, CubicIsItself) {
  const auto cubic = [](double x) { return 2 - 3 * x + 0.5 * x * x - 0.1 * x * x * x; };
  const std::vector<double> x{42, 44, 46, 48, 50};
  std::vector<double> y;
  for (const double at : x) y.push_back(cubic(at - 45));
  const Polynomial p = fit_polynomial(x, y);
  ASSERT_TRUE(p.known());
  for (double at = 42; at <= 50; at += 0.25) EXPECT_NEAR(p(at), cubic(at - 45), 1e-11);
  EXPECT_FALSE(fit_polynomial({1, 2}, {1, 2}).known());
  EXPECT_TRUE(std::isnan(Polynomial{}(1)));
  EXPECT_FALSE(fit_polynomial({1, 1, 1}, {1, 2, 3}).known());
}

// Through its points, monotone where they are (Fritsch & Carlson 1980: their data of table 1, from
// memory: a step that an ordinary spline would overshoot).
TEST(Curve, SmoothWithoutOvershoot) {
  const std::vector<double> x{0, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15},
      y{10, 10, 10, 10, 10, 10, 10.5, 15, 50, 60, 85};
  const SmoothCurve curve(x, y);
  for (std::size_t i = 0; i < x.size(); ++i) EXPECT_NEAR(curve(x[i]), y[i], 1e-12);
  double last = 10;
  for (int k = 0; k <= 1500; ++k) {
    const double now = curve(0.01 * k);
    EXPECT_GE(now, last - 1e-12);
    last = now;
  }
}

TEST(Curve, StraightLinesAreStraight) {
  const SmoothCurve curve({0, 1, 3, 4}, {1, 3, 7, 9});
  for (const double x : {-2.0, 0.3, 2.2, 3.9, 7.0}) EXPECT_NEAR(curve(x), 1 + 2 * x, 1e-12);
  const SmoothCurve two({0, 1}, {1, 3});
  EXPECT_NEAR(two(0.5), 2, 1e-12);
}

TEST(Curve, MissingPointsAreNotInvented) {
  const double none = std::nan("");
  const SmoothCurve curve({0, 1, 2, 3, 4}, {none, 1, 2, 3, 4});
  EXPECT_TRUE(std::isnan(curve(0.5)));
  EXPECT_NEAR(curve(1.5), 1.5, 1e-12);
}

}  // namespace
}  // namespace batten::brief

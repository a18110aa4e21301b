#include "core/numerics/least_squares.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

namespace batten::tests {
namespace {

Eigen::MatrixXd line_design(const Eigen::VectorXd& x) {
  Eigen::MatrixXd design(x.size(), 2);
  design << Eigen::VectorXd::Ones(x.size()), x;
  return design;
}

// Closed form of a straight line: slope Sxy/Sxx, var(slope) σ²/Sxx, var(constant) σ² (1/n + x̄²/Sxx)
// (any textbook of regression, e.g. Draper & Smith, Applied Regression Analysis, 3rd ed., ch. 1).
TEST(LinearLeastSquares, straight_line_in_closed_form) {
  const Eigen::VectorXd x = (Eigen::VectorXd(6) << 1, 3, 8, 15, 20, 27).finished();
  const Eigen::VectorXd y =
      (Eigen::VectorXd(6) << 195.1, 195.2, 195.8, 195.9, 196.4, 196.3).finished();
  const double mean_x = x.mean();
  const double sxx = (x.array() - mean_x).square().sum();
  const double slope = ((x.array() - mean_x) * (y.array() - y.mean())).sum() / sxx;
  const double constant = y.mean() - slope * mean_x;
  const double variance = (y.array() - constant - slope * x.array()).square().sum() / 4;

  const Result<LinearFit> fit = solve_linear(line_design(x), y);
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->rank, 2);
  EXPECT_EQ(fit->degrees_of_freedom, 4);
  EXPECT_NEAR(fit->coefficients[1], slope, 1e-13);
  EXPECT_NEAR(fit->coefficients[0], constant, 1e-11);
  EXPECT_NEAR(fit->residual_sd, std::sqrt(variance), 1e-12);
  EXPECT_NEAR(fit->sd(1), std::sqrt(variance / sxx), 1e-13);
  EXPECT_NEAR(fit->sd(0), std::sqrt(variance * (1.0 / 6 + mean_x * mean_x / sxx)), 1e-12);
  EXPECT_NEAR(fit->covariance(0, 1), -variance * mean_x / sxx, 1e-12);
  EXPECT_NEAR(fit->residuals.sum(), 0, 1e-11);
}

TEST(LinearLeastSquares, stated_deviations_may_be_believed) {
  const Eigen::VectorXd x = Eigen::VectorXd::LinSpaced(5, 0, 4);
  const Eigen::VectorXd y = (Eigen::VectorXd(5) << 0, 1, 2, 3, 4).finished();
  const Eigen::VectorXd sd = Eigen::VectorXd::Constant(5, 0.1);
  const Result<LinearFit> fit =
      solve_linear(line_design(x), y, sd, {.noise = NoiseScale::as_stated});
  ASSERT_TRUE(fit);
  // On the line exactly: the residuals would promise a perfect slope; the gauges do not. Sxx = 10.
  EXPECT_NEAR(fit->sd(1), 0.1 / std::sqrt(10.0), 1e-14);
  EXPECT_NEAR(fit->residual_sd, 0, 1e-12);
}

TEST(LinearLeastSquares, short_rank_is_reported) {
  Eigen::MatrixXd design(5, 3);
  design << 1, 2, 4, 1, 3, 6, 1, 5, 10, 1, 7, 14, 1, 8, 16;  // third column twice the second
  const Eigen::VectorXd y = (Eigen::VectorXd(5) << 5, 7, 11, 15, 17).finished();  // 1 + 2 x
  const Result<LinearFit> fit = solve_linear(design, y);
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->rank, 2);
  EXPECT_FALSE(fit->full_rank());
  EXPECT_EQ(fit->degrees_of_freedom, 3);
  EXPECT_LT(fit->residuals.norm(), 1e-12);
  EXPECT_EQ((fit->coefficients.array() == 0).count(), 1);
  EXPECT_TRUE(fit->covariance.array().isNaN().all());
}

TEST(LinearLeastSquares, a_column_of_zeros_determines_nothing) {
  Eigen::MatrixXd design(3, 2);
  design << 1, 0, 1, 0, 1, 0;
  const Result<LinearFit> fit = solve_linear(design, Eigen::Vector3d(1, 2, 3));
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->rank, 1);
  EXPECT_NEAR(fit->coefficients[0], 2, 1e-14);
  EXPECT_EQ(fit->coefficients[1], 0);
}

TEST(LinearLeastSquares, as_many_unknowns_as_rows_leave_no_scatter) {
  const Result<LinearFit> fit =
      solve_linear(line_design(Eigen::Vector2d(0, 2)), Eigen::Vector2d(1, 5));
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficients[1], 2, 1e-14);
  EXPECT_EQ(fit->degrees_of_freedom, 0);
  EXPECT_TRUE(std::isnan(fit->residual_sd));
  EXPECT_TRUE(std::isnan(fit->sd(0)));
}

TEST(LinearLeastSquares, more_unknowns_than_rows_fit_but_determine_nothing) {
  const Result<LinearFit> fit = solve_linear(Eigen::MatrixXd::Ones(1, 2), Eigen::VectorXd::Ones(1));
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->rank, 1);
  EXPECT_EQ(fit->degrees_of_freedom, 0);
  EXPECT_NEAR(fit->residuals[0], 0, 1e-15);
}

TEST(LinearLeastSquares, refuses_what_cannot_be_fitted) {
  const Eigen::MatrixXd design = line_design(Eigen::Vector3d(1, 2, 3));
  const Eigen::VectorXd y = Eigen::Vector3d(1, 2, 3);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  EXPECT_FALSE(solve_linear(Eigen::MatrixXd(0, 2), Eigen::VectorXd()));
  EXPECT_FALSE(solve_linear(Eigen::MatrixXd(3, 0), y));
  EXPECT_FALSE(solve_linear(design, Eigen::VectorXd::Ones(4)));
  EXPECT_FALSE(solve_linear(design, y, Eigen::VectorXd::Ones(2)));
  EXPECT_FALSE(solve_linear(design, Eigen::Vector3d(1, nan, 3)));
  EXPECT_FALSE(solve_linear(design * infinity, y));
  EXPECT_FALSE(solve_linear(design, y, Eigen::Vector3d(0.1, 0, 0.1)));
  EXPECT_FALSE(solve_linear(design, y, Eigen::Vector3d(0.1, -0.1, 0.1)));
  EXPECT_FALSE(solve_linear(design, y, Eigen::Vector3d(0.1, infinity, 0.1)));
  EXPECT_TRUE(solve_linear(design, y, Eigen::Vector3d(0.1, 0.1, 0.1)))
      << "the same with sound numbers is fitted";
  const Result<LinearFit> refused = solve_linear(design, y, Eigen::Vector3d(0.1, 0, 0.1));
  EXPECT_EQ(refused.error().happened, "An uncertainty is zero or negative.");
}

// Readings to a hundredth on keys 1–88, at least four at different keys.
struct Points {
  Eigen::VectorXd x, y, sd;
};

Points points() {
  const auto count = *rc::gen::inRange(4, 30);
  Points result{Eigen::VectorXd(count), Eigen::VectorXd(count), Eigen::VectorXd(count)};
  for (Eigen::Index i = 0; i < count; ++i) {
    result.x[i] = i < 4 ? static_cast<double>(1 + 25 * i) : *rc::gen::inRange(1, 89);
    result.y[i] = *rc::gen::inRange(-30000, 30000) / 100.0;
    result.sd[i] = *rc::gen::inRange(1, 100) / 100.0;
  }
  return result;
}

double difference(const Eigen::MatrixXd& a, const Eigen::MatrixXd& b) {
  return (a - b).norm() / std::max(1.0, b.norm());
}

// What remains is orthogonal to what was fitted: the normal equations.
RC_GTEST_PROP(LinearLeastSquares, weighted_residuals_are_orthogonal_to_the_columns, ()) {
  const Points p = points();
  const Eigen::MatrixXd design = line_design(p.x);
  const Result<LinearFit> fit = solve_linear(design, p.y, p.sd);
  RC_ASSERT(fit.has_value());
  const Eigen::VectorXd weights = p.sd.cwiseAbs2().cwiseInverse();
  const Eigen::VectorXd left = design.transpose() * weights.cwiseProduct(fit->residuals);
  const Eigen::VectorXd size =
      design.cwiseAbs().transpose() * weights.cwiseProduct(p.y.cwiseAbs()) +
      Eigen::Vector2d::Ones();
  RC_ASSERT(left.cwiseQuotient(size).norm() < 1e-12);
}

RC_GTEST_PROP(LinearLeastSquares, units_of_a_column_do_not_matter, ()) {
  const Points p = points();
  const double unit = std::pow(10.0, *rc::gen::inRange(-9, 9));
  const Result<LinearFit> plain = solve_linear(line_design(p.x), p.y, p.sd);
  const Result<LinearFit> scaled = solve_linear(line_design(p.x * unit), p.y, p.sd);
  RC_ASSERT(plain.has_value() && scaled.has_value());
  const Eigen::Vector2d back(1, unit);
  RC_ASSERT(difference(back.cwiseProduct(scaled->coefficients), plain->coefficients) < 1e-10);
  RC_ASSERT(difference(back.asDiagonal() * scaled->covariance * back.asDiagonal(),
                       plain->covariance) < 1e-9);
}

// A reading with half the deviation counts as the same reading four times.
RC_GTEST_PROP(LinearLeastSquares, halving_a_deviation_is_reading_four_times, ()) {
  const Points p = points();
  const Eigen::Index n = p.x.size();
  Points once = p;
  once.sd[0] /= 2;
  Points repeated{Eigen::VectorXd(n + 3), Eigen::VectorXd(n + 3), Eigen::VectorXd(n + 3)};
  repeated.x << Eigen::Vector3d::Constant(p.x[0]), p.x;
  repeated.y << Eigen::Vector3d::Constant(p.y[0]), p.y;
  repeated.sd << Eigen::Vector3d::Constant(p.sd[0]), p.sd;
  const LinearFitOptions believed{.noise = NoiseScale::as_stated};
  const Result<LinearFit> a = solve_linear(line_design(once.x), once.y, once.sd, believed);
  const Result<LinearFit> b =
      solve_linear(line_design(repeated.x), repeated.y, repeated.sd, believed);
  RC_ASSERT(a.has_value() && b.has_value());
  RC_ASSERT(difference(a->coefficients, b->coefficients) < 1e-10);
  RC_ASSERT(difference(a->covariance, b->covariance) < 1e-10);
}

}  // namespace
}  // namespace batten::tests

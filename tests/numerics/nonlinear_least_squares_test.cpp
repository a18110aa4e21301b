#include "core/numerics/nonlinear_least_squares.hpp"

#include "core/numerics/least_squares.hpp"
#include "tests/numerics/nist_dataset.hpp"
#include "tests/numerics/nist_models.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace batten::tests {
namespace {

const Eigen::VectorXd keys = (Eigen::VectorXd(6) << 1, 3, 8, 15, 20, 27).finished();
const Eigen::VectorXd heights =
    (Eigen::VectorXd(6) << 195.1, 195.2, 195.8, 195.9, 196.4, 196.3).finished();

NonlinearModel straight_line() {
  return {.residual_count = 6,
          .calc_residuals =
              [](const Eigen::VectorXd& b, Eigen::VectorXd& residuals) {
                residuals = heights - b[0] * Eigen::VectorXd::Ones(6) - b[1] * keys;
              },
          .calc_jacobian = {}};
}

TEST(NonlinearLeastSquares, agrees_with_the_linear_fit_where_the_model_is_linear) {
  const Result<NonlinearSummary> fit = solve_nonlinear(straight_line(), Eigen::Vector2d(100, -3));
  Eigen::MatrixXd design(6, 2);
  design << Eigen::VectorXd::Ones(6), keys;
  const Result<LinearFit> linear = solve_linear(design, heights);
  ASSERT_TRUE(fit && linear);
  EXPECT_TRUE(fit->usable());
  EXPECT_NEAR(fit->parameters[0], linear->coefficients[0], 1e-8);
  EXPECT_NEAR(fit->parameters[1], linear->coefficients[1], 1e-9);
  EXPECT_NEAR(fit->residual_sd, linear->residual_sd, 1e-12);
  EXPECT_LT((fit->covariance - linear->covariance).norm(), 1e-8 * linear->covariance.norm());
  EXPECT_EQ(fit->rank, 2);
  EXPECT_EQ(fit->degrees_of_freedom, 4);
}

// log(b x) does not exist for b ≤ 0. From b = 50 the first full step is b (log 2 − log b) = −161,
// far into that half. The exact answer is b = 2.
TEST(NonlinearLeastSquares, steps_back_from_where_the_model_does_not_exist) {
  int visits_outside = 0;
  const NonlinearModel model{.residual_count = 3,
                             .calc_residuals =
                                 [&](const Eigen::VectorXd& b, Eigen::VectorXd& residuals) {
                                   if (b[0] <= 0) ++visits_outside;
                                   for (Eigen::Index i = 0; i < 3; ++i)
                                     residuals[i] = std::log(2.0 * static_cast<double>(i + 1)) -
                                                    std::log(b[0] * static_cast<double>(i + 1));
                                 },
                             .calc_jacobian = {}};
  const Result<NonlinearSummary> fit = solve_nonlinear(model, Eigen::VectorXd::Constant(1, 50.0));
  ASSERT_TRUE(fit);
  EXPECT_GT(visits_outside, 0);
  EXPECT_TRUE(fit->usable());
  EXPECT_NEAR(fit->parameters[0], 2, 1e-9);
}

TEST(NonlinearLeastSquares, keeps_the_best_when_it_runs_out_of_evaluations) {
  const NistDataset set = read_nist("nonlinear", "MGH10");
  const Eigen::VectorXd start = set.starts.col(0);
  const NonlinearModel model = nist_model("MGH10", set, Jacobian::exact);
  const Result<NonlinearSummary> fit = solve_nonlinear(model, start, {.max_evaluations = 20});
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->termination, Termination::out_of_evaluations);
  EXPECT_FALSE(fit->usable());
  Eigen::VectorXd residuals(model.residual_count);
  model.calc_residuals(start, residuals);
  EXPECT_LT(fit->sum_of_squares, residuals.squaredNorm());
  model.calc_residuals(fit->parameters, residuals);
  EXPECT_EQ(fit->sum_of_squares, residuals.squaredNorm());
}

TEST(NonlinearLeastSquares, reports_an_undetermined_parameter) {
  NonlinearModel model = straight_line();
  model.calc_residuals = [](const Eigen::VectorXd& b, Eigen::VectorXd& residuals) {
    residuals = heights - (b[0] + b[1]) * Eigen::VectorXd::Ones(6);
  };
  const Result<NonlinearSummary> fit = solve_nonlinear(model, Eigen::Vector2d(100, 90));
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->rank, 1);
  EXPECT_TRUE(fit->covariance.array().isNaN().all());
  EXPECT_FALSE(fit->usable());
  EXPECT_NEAR(fit->parameters.sum(), heights.mean(), 1e-6);
}

TEST(NonlinearLeastSquares, stops_where_derivatives_are_not_finite) {
  NonlinearModel model = straight_line();
  model.calc_jacobian = [](const Eigen::VectorXd&, Eigen::MatrixXd& jacobian) {
    jacobian.setConstant(std::numeric_limits<double>::infinity());
  };
  const Result<NonlinearSummary> fit = solve_nonlinear(model, Eigen::Vector2d(100, -3));
  ASSERT_TRUE(fit);
  EXPECT_EQ(fit->termination, Termination::not_finite);
  EXPECT_FALSE(fit->usable());
  EXPECT_EQ(fit->parameters, Eigen::Vector2d(100, -3));
}

TEST(NonlinearLeastSquares, refuses_what_cannot_be_fitted) {
  const Eigen::Vector2d start(195, 0);
  EXPECT_TRUE(solve_nonlinear(straight_line(), start));
  EXPECT_FALSE(solve_nonlinear({}, start));
  EXPECT_FALSE(solve_nonlinear(straight_line(), Eigen::VectorXd()));
  EXPECT_FALSE(solve_nonlinear(straight_line(), Eigen::VectorXd::Zero(7)));
  EXPECT_FALSE(solve_nonlinear(straight_line(), start * std::numeric_limits<double>::infinity()));
  EXPECT_FALSE(solve_nonlinear(straight_line(), start, {.parameter_tolerance = 0}));
  EXPECT_FALSE(solve_nonlinear(straight_line(), start, {.sum_of_squares_tolerance = -1}));
  EXPECT_FALSE(solve_nonlinear(straight_line(), start, {.max_evaluations = 0}));
  EXPECT_FALSE(solve_nonlinear(straight_line(), start, {.first_step = 0}));
  NonlinearModel nowhere = straight_line();
  nowhere.calc_residuals = [](const Eigen::VectorXd&, Eigen::VectorXd& residuals) {
    residuals.setConstant(std::numeric_limits<double>::quiet_NaN());
  };
  EXPECT_FALSE(solve_nonlinear(nowhere, start));
}

// The exact derivatives of the test models against central differences of the models themselves.
TEST(NistModels, derivatives_are_those_of_the_models) {
  for (const std::string& name : nist_nonlinear_names()) {
    const NistDataset set = read_nist("nonlinear", name);
    const NonlinearModel model = nist_model(name, set, Jacobian::exact);
    Eigen::MatrixXd jacobian(model.residual_count, set.certified.size());
    model.calc_jacobian(set.certified, jacobian);
    for (Eigen::Index j = 0; j < set.certified.size(); ++j) {
      const double step = 1e-5 * std::abs(set.certified[j]);
      Eigen::VectorXd above(model.residual_count), below(model.residual_count);
      Eigen::VectorXd b = set.certified;
      b[j] = set.certified[j] + step;
      model.calc_residuals(b, above);
      b[j] = set.certified[j] - step;
      model.calc_residuals(b, below);
      const Eigen::VectorXd differences = (above - below) / (2 * step);
      EXPECT_LT((differences - jacobian.col(j)).norm(), 1e-5 * jacobian.col(j).norm())
          << name << " b" << j + 1;
    }
  }
}

}  // namespace
}  // namespace batten::tests

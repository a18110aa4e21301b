// NIST Statistical Reference Datasets, linear regression: certified to 15 digits by multiple
// precision arithmetic (data/reference/nist/ORIGIN.md).
#include "core/numerics/least_squares.hpp"
#include "tests/numerics/nist_dataset.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <ostream>
#include <string>

namespace batten::tests {
namespace {

struct LinearCase {
  std::string name;
  int degree;  // of the polynomial; 0: the predictors as they stand, with a constant
  bool constant;
  // Required digits of coefficients, their standard deviations and the residual standard deviation.
  double digits, sd_digits, residual_digits;
};

std::ostream& operator<<(std::ostream& out, const LinearCase& one) { return out << one.name; }

Eigen::MatrixXd design_of(const LinearCase& one, const Eigen::MatrixXd& x) {
  if (one.degree == 0) {
    Eigen::MatrixXd design(x.rows(), x.cols() + (one.constant ? 1 : 0));
    if (one.constant) design.col(0).setOnes();
    design.rightCols(x.cols()) = x;
    return design;
  }
  Eigen::MatrixXd design(x.rows(), one.degree + 1);
  design.col(0).setOnes();
  for (int power = 1; power <= one.degree; ++power)
    design.col(power) = design.col(power - 1).cwiseProduct(x.col(0));
  return design;
}

class NistLinear : public testing::TestWithParam<LinearCase> {};

TEST_P(NistLinear, agrees_with_the_certified_values) {
  const NistDataset set = read_nist("linear", GetParam().name);
  const Result<LinearFit> fit = solve_linear(design_of(GetParam(), set.x), set.y);
  ASSERT_TRUE(fit) << fit.error().sentence();
  EXPECT_TRUE(fit->full_rank());
  const double digits = fewest_correct_digits(fit->coefficients, set.certified);
  const double sd_digits =
      fewest_correct_digits(fit->covariance.diagonal().cwiseSqrt(), set.certified_sd);
  const double residual_digits = correct_digits(fit->residual_sd, set.certified_residual_sd);
  RecordProperty("digits", std::to_string(digits));
  RecordProperty("sd_digits", std::to_string(sd_digits));
  RecordProperty("residual_digits", std::to_string(residual_digits));
  EXPECT_GE(digits, GetParam().digits);
  EXPECT_GE(sd_digits, GetParam().sd_digits);
  EXPECT_GE(residual_digits, GetParam().residual_digits);
}

INSTANTIATE_TEST_SUITE_P(
    StRD, NistLinear,
    // Required: what was measured, less one digit (two compilers, with and without optimisation).
    testing::Values(
        LinearCase{"Norris", 1, true, 12, 12.5, 12.5}, LinearCase{"Pontius", 2, true, 12, 12, 12},
        LinearCase{"NoInt1", 0, false, 13.5, 14, 14}, LinearCase{"NoInt2", 0, false, 13.5, 14, 14},
        LinearCase{"Longley", 0, true, 10, 11, 11}, LinearCase{"Filip", 10, true, 7, 7, 7},
        // An exact fit: its certified deviations are 0, so that digits count from 1.
        LinearCase{"Wampler1", 5, true, 8, 8, 8}, LinearCase{"Wampler2", 5, true, 11.5, 12.5, 12.5},
        LinearCase{"Wampler3", 5, true, 8, 12.5, 13}, LinearCase{"Wampler4", 5, true, 7, 12.5, 13},
        LinearCase{"Wampler5", 5, true, 5.5, 12.5, 13}),
    [](const auto& instance) { return instance.param.name; });

}  // namespace
}  // namespace batten::tests

// NIST Statistical Reference Datasets, nonlinear regression: certified to 11 digits, each with a
// far and a near start (data/reference/nist/ORIGIN.md).
#include "core/numerics/nonlinear_least_squares.hpp"
#include "tests/numerics/nist_dataset.hpp"
#include "tests/numerics/nist_models.hpp"

#include <gtest/gtest.h>

#include <string>
#include <tuple>

namespace batten::tests {
namespace {

struct Digits {
  double parameters, sds;
};

// What was measured, less about one digit. Certified values are printed to 11 digits.
Digits required_digits(const std::string& name) {
  if (name == "ENSO") return {6, 6.5};
  if (name == "Lanczos3") return {5.5, 5.5};
  // Its residuals are the rounding of the data's 13th digit, and so is their standard deviation.
  if (name == "Lanczos1") return {9.5, 2};
  return {6.5, 6};
}

class NistNonlinear : public testing::TestWithParam<std::tuple<std::string, int, Jacobian>> {};

TEST_P(NistNonlinear, agrees_with_the_certified_values) {
  const auto& [name, start, jacobian] = GetParam();
  const NistDataset set = read_nist("nonlinear", name);
  const Result<NonlinearSummary> fit =
      solve_nonlinear(nist_model(name, set, jacobian), set.starts.col(start));
  ASSERT_TRUE(fit) << fit.error().sentence();
  EXPECT_TRUE(fit->usable()) << words(fit->termination);
  EXPECT_EQ(fit->rank, set.certified.size());
  EXPECT_EQ(fit->degrees_of_freedom, set.y.size() - set.certified.size());
  const Digits required = required_digits(name);
  EXPECT_GE(fewest_correct_digits(fit->parameters, set.certified), required.parameters);
  EXPECT_GE(fewest_correct_digits(fit->covariance.diagonal().cwiseSqrt(), set.certified_sd),
            required.sds);
  EXPECT_GE(correct_digits(fit->residual_sd, set.certified_residual_sd),
            name == "Lanczos1" ? required.sds : 9.5);
}

std::string case_name(const testing::TestParamInfo<NistNonlinear::ParamType>& instance) {
  const auto& [name, start, jacobian] = instance.param;
  return name + (start == 0 ? "_far" : "_near") +
         (jacobian == Jacobian::exact ? "_exact" : "_differences");
}

INSTANTIATE_TEST_SUITE_P(StRD, NistNonlinear,
                         testing::Combine(testing::ValuesIn(nist_nonlinear_names()),
                                          testing::Values(0, 1),
                                          testing::Values(Jacobian::exact, Jacobian::differences)),
                         case_name);

}  // namespace
}  // namespace batten::tests

// Worked examples of JCGM 100:2008, "Guide to the expression of uncertainty in measurement" (GUM).
// Figures are compared to the digits the guide prints. Marked below: S, as second-hand copies of
// the guide's tables have it; M, from memory.
#include "core/numerics/least_squares.hpp"
#include "core/numerics/weighted_mean.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <vector>

namespace batten::tests {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

// 4.4.3, table 1: twenty readings of a temperature in degrees Celsius (M).
TEST(Gum, twenty_repeats_of_a_temperature) {
  const std::vector<double> readings{96.90,  98.18,  98.25,  98.61,  99.03,  99.49,  99.56,
                                     99.74,  99.89,  100.07, 100.33, 100.42, 100.68, 100.95,
                                     101.11, 101.20, 101.57, 101.84, 102.36, 102.72};
  const Repeats result = repeats(readings);
  EXPECT_EQ(result.count, 20);
  EXPECT_NEAR(result.mean, 100.145, 0.0005);
  EXPECT_NEAR(result.sd, 1.489, 0.0005);
  EXPECT_NEAR(result.sd_of_mean, 0.333, 0.0005);
}

// 4.4.5 and 4.4.6: known only to lie within 100 ± 4 °C: 2.3 °C if all values are alike, 1.6 °C if
// the middle is likelier (M).
TEST(Gum, limits_without_repeats) {
  EXPECT_NEAR(sd_of_rectangle(4.0), 2.3, 0.05);
  EXPECT_NEAR(sd_of_triangle(4.0), 1.6, 0.05);
}

// H.1, calibration of an end gauge, contributions in nm: the comparison is repeats, random effects
// and systematic effects of the comparator; then standard, comparison, expansion, temperature (S).
TEST(Gum, end_gauge) {
  const std::array comparison{5.8, 3.9, 6.7};
  EXPECT_NEAR(combined_sd(comparison), 9.7, 0.05);
  const std::array all{25.0, 9.7, 2.9, 16.6};
  EXPECT_NEAR(combined_sd(all), 32.0, 0.5);

  // H.1.6, from contributions as printed, that is rounded to two digits.
  const std::array of_comparison{Contribution{5.8, 24}, Contribution{3.9, 5}, Contribution{6.7, 8}};
  EXPECT_NEAR(effective_degrees_of_freedom(of_comparison), 25.6, 0.3);
  const std::array of_all{Contribution{25, 18}, Contribution{9.7, 25.6}, Contribution{2.9, 50},
                          Contribution{16.6, 2}};
  EXPECT_NEAR(effective_degrees_of_freedom(of_all), 16.7, 0.1);
}

// G.4.1, example: a product of three quantities, relative uncertainties in percent (M).
TEST(Gum, effective_degrees_of_freedom) {
  const std::array relative{0.25, 0.57, 0.82};
  EXPECT_NEAR(combined_sd(relative), 1.03, 0.005);
  const std::array contributions{Contribution{0.25, 9}, Contribution{0.57, 4},
                                 Contribution{0.82, 14}};
  EXPECT_NEAR(effective_degrees_of_freedom(contributions), 19.0, 0.05);
}

TEST(Gum, contributions_known_exactly_or_absent) {
  const std::array exact{Contribution{0.1, infinity}, Contribution{0.2, infinity}};
  EXPECT_EQ(effective_degrees_of_freedom(exact), infinity);
  EXPECT_TRUE(std::isnan(effective_degrees_of_freedom({})));
  EXPECT_EQ(combined_sd({}), 0.0);
}

// H.2, table H.2: five readings of voltage (V), current (mA) and phase (rad) (M).
TEST(Gum, means_of_simultaneous_readings) {
  const Repeats voltage = repeats(std::vector{5.007, 4.994, 5.005, 4.990, 4.999});
  EXPECT_NEAR(voltage.mean, 4.9990, 0.00005);
  EXPECT_NEAR(voltage.sd_of_mean, 0.0032, 0.00005);
  const Repeats current = repeats(std::vector{19.663, 19.639, 19.640, 19.685, 19.678});
  EXPECT_NEAR(current.mean, 19.6610, 0.00005);
  EXPECT_NEAR(current.sd_of_mean, 0.0095, 0.00005);
  const Repeats phase = repeats(std::vector{1.0456, 1.0438, 1.0468, 1.0428, 1.0433});
  EXPECT_NEAR(phase.mean, 1.04446, 0.000005);
  EXPECT_NEAR(phase.sd_of_mean, 0.00075, 0.000005);
}

// H.3, table H.6: corrections of a thermometer, a straight line about 20 °C (readings S, results
// M).
TEST(Gum, calibration_line_of_a_thermometer) {
  const std::vector<double> t{21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                              24.513, 25.002, 25.503, 26.010, 26.511};
  const std::vector<double> correction{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165,
                                       -0.156, -0.157, -0.159, -0.161, -0.160};
  Eigen::MatrixXd design(11, 2);
  Eigen::VectorXd observed(11);
  for (Eigen::Index i = 0; i < 11; ++i) {
    design.row(i) << 1, t[static_cast<std::size_t>(i)] - 20;
    observed[i] = correction[static_cast<std::size_t>(i)];
  }
  const Result<LinearFit> fit = solve_linear(design, observed);
  ASSERT_TRUE(fit);
  EXPECT_NEAR(fit->coefficients[0], -0.1712, 0.00005);
  EXPECT_NEAR(fit->sd(0), 0.0029, 0.00005);
  EXPECT_NEAR(fit->coefficients[1], 0.00218, 0.000005);
  EXPECT_NEAR(fit->sd(1), 0.00067, 0.000005);
  EXPECT_NEAR(fit->covariance(0, 1) / (fit->sd(0) * fit->sd(1)), -0.930, 0.0005);
  EXPECT_NEAR(fit->residual_sd, 0.0035, 0.00005);
  // H.3.4: at 30 °C the correction is −0.1494 with 0.0041.
  const Eigen::Vector2d at_30(1, 10);
  EXPECT_NEAR(at_30.dot(fit->coefficients), -0.1494, 0.00005);
  EXPECT_NEAR(std::sqrt(at_30.dot(fit->covariance * at_30)), 0.0041, 0.00005);
}

// Closed form: equal uncertainties give the plain mean and sd/√n.
TEST(WeightedMean, of_equally_good_readings_is_the_mean) {
  const std::array readings{45.1, 45.3, 45.2, 45.4};
  const std::array sds{0.2, 0.2, 0.2, 0.2};
  const WeightedMean result = weighted_mean(readings, sds);
  EXPECT_NEAR(result.mean, 45.25, 1e-12);
  EXPECT_NEAR(result.stated_sd, 0.1, 1e-12);
  // chi² = 0.05/0.04 over 3 degrees of freedom.
  EXPECT_NEAR(result.birge_ratio, std::sqrt(1.25 / 3), 1e-12);
  EXPECT_EQ(result.sd(), result.stated_sd);
}

// Worked by hand: 10 ± 1 and 13 ± 2 weigh 4 to 1; chi² = 0.6² + 1.2² = 1.8.
TEST(WeightedMean, widens_when_readings_disagree) {
  const std::array readings{10.0, 13.0};
  const std::array sds{1.0, 2.0};
  const WeightedMean result = weighted_mean(readings, sds);
  EXPECT_NEAR(result.mean, 10.6, 1e-12);
  EXPECT_NEAR(result.stated_sd, std::sqrt(0.8), 1e-12);
  EXPECT_NEAR(result.birge_ratio, std::sqrt(1.8), 1e-12);
  EXPECT_NEAR(result.sd(), std::sqrt(0.8 * 1.8), 1e-12);
}

TEST(WeightedMean, is_the_constant_fitted_by_least_squares) {
  const std::array readings{187.2, 187.6, 187.3};
  const std::array sds{0.05, 0.2, 0.1};
  const WeightedMean result = weighted_mean(readings, sds);
  const Result<LinearFit> fit = solve_linear(Eigen::MatrixXd::Ones(3, 1),
                                             Eigen::Map<const Eigen::VectorXd>(readings.data(), 3),
                                             Eigen::Map<const Eigen::VectorXd>(sds.data(), 3));
  ASSERT_TRUE(fit);
  EXPECT_NEAR(result.mean, fit->coefficients[0], 1e-11);
  EXPECT_NEAR(result.birge_ratio, fit->residual_sd, 1e-11);
  EXPECT_NEAR(result.stated_sd * result.birge_ratio, fit->sd(0), 1e-12);
}

TEST(WeightedMean, of_one_or_none) {
  const std::array reading{45.0};
  const std::array sd{0.1};
  EXPECT_EQ(weighted_mean(reading, sd).sd(), 0.1);
  EXPECT_EQ(weighted_mean(reading, sd).birge_ratio, 1.0);
  EXPECT_TRUE(std::isnan(weighted_mean({}, {}).mean));
  EXPECT_TRUE(std::isnan(repeats(reading).sd));
  EXPECT_EQ(repeats(reading).mean, 45.0);
  EXPECT_TRUE(std::isnan(repeats({}).mean));
}

}  // namespace
}  // namespace batten::tests

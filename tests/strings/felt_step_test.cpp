// The solution of one step of felt, taken alone.
#include "core/strings/felt_step.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten::strings {
namespace {

// Against std::pow.
TEST(FeltStep, knows_a_power_from_its_neighbour) {
  double worst = 0;
  for (const double p : {1.0, 1.5, 2.3, 2.5, 3.0, 4.2, 6.0}) {
    const Power power(p);
    for (int i = -40; i <= 40; ++i) {
      const double d0 = 3e-4;
      const double d = d0 * (1 + i / 1000.0);
      worst = std::max(worst, std::abs(power.of(d, d0, std::pow(d0, p)) / std::pow(d, p) - 1));
    }
    EXPECT_EQ(power.of(-1e-4), 0);
    EXPECT_EQ(power.of(0, 3e-4, std::pow(3e-4, p)), 0);
  }
  EXPECT_LT(worst, 1e-13);
}

// Closed form: the mean is the difference of d^(p+1)/(p+1) over the change.
TEST(FeltStep, has_the_mean_that_keeps_energy) {
  double worst = 0;
  for (const double p : {1.5, 2.5, 3.0}) {
    const FeltLaw law{1, 0, Power(p)};
    const double d0 = 2e-4;
    for (const double change :
         {-3e-4, -1e-4, -1.1e-6, -0.9e-6, -1e-9, 1e-9, 0.9e-6, 1.1e-6, 1e-4}) {
      const long double a = d0;
      const long double b = static_cast<long double>(d0) + change;
      const long double q = static_cast<long double>(p) + 1;
      const auto felt = [&](long double d) { return d > 0 ? std::pow(d, q) / q : 0; };
      const auto expected = static_cast<double>((felt(b) - felt(a)) / (b - a));
      const MeanPower mean = mean_power(compressed(law, d0), compressed(law, d0 + change), p);
      // The reference cancels where the change is small.
      const double digits = 1e-18 / std::abs(change / d0);
      worst = std::max(worst, std::abs(mean.value / expected - 1) - digits);
    }
  }
  EXPECT_LT(worst, 1e-10);
  const FeltLaw law{1, 0, Power(2.5)};
  EXPECT_EQ(mean_power(compressed(law, -1e-4), compressed(law, -1e-4), 2.5).value, 0);
}

// Whatever the guess the equation is met: force = mean felt force between the ends it leads to.
TEST(FeltStep, is_solved_from_any_guess) {
  double worst = 0;
  for (const double p : {1.0, 2.3, 3.0}) {
    for (const double stiffness : {1e3, 1e8, 1e12, 1e16}) {
      for (const double recovery : {0.0, 5.0}) {
        for (const double d0 : {-1e-5, 0.0, 1e-5, 4e-4}) {
          for (const double free_end : {-2e-4, 1e-9, 3e-5, 5e-4, 0.02}) {
            for (const double guess : {0.0, 50.0, 1e6}) {
              const FeltLaw law{stiffness, recovery, Power(p)};
              const Compressed start = compressed(law, d0);
              const FeltEnd got = solve_felt(law, start, free_end, 1e-6, guess);
              ASSERT_GE(got.force, 0);
              ASSERT_NEAR(got.end.by, free_end - 1e-6 * got.force,
                          1e-9 * (std::abs(free_end) + 1e-6 * got.force));
              const Compressed end = compressed(law, free_end - 1e-6 * got.force);
              const double felt = stiffness * (mean_power(start, end, p).value +
                                               recovery * (end.power - start.power));
              // Apart at both ends, or asked to pull.
              if (felt <= 0) {
                ASSERT_NEAR(got.force, 0, 1e-9);
                continue;
              }
              // In terms of compression, since the force of a stiff felt magnifies rounding.
              const double slope =
                  stiffness * (mean_power(start, end, p).slope + recovery * end.slope);
              const double error = std::abs(felt - got.force) / (1 + 1e-6 * slope) / got.force;
              worst = std::max(worst, error);
            }
          }
        }
      }
    }
  }
  EXPECT_LT(worst, 1e-8);
}

}  // namespace
}  // namespace batten::strings

// Means and uncertainties of readings, as JCGM 100:2008 (GUM, the ISO guide to the expression of
// uncertainty in measurement) sets them out. All uncertainties are one standard deviation; any
// unit, the same for all arguments.
#pragma once

#include <limits>
#include <span>

namespace batten {

struct Repeats {
  double mean = std::numeric_limits<double>::quiet_NaN();
  double sd = std::numeric_limits<double>::quiet_NaN();  // of one reading; NaN for fewer than 2
  double sd_of_mean = std::numeric_limits<double>::quiet_NaN();  // sd / sqrt(count)
  int count = 0;
};

// Repeats of one quantity under the same conditions (GUM 4.2.1–4.2.3, type A).
Repeats repeats(std::span<const double> readings);

// Standard deviation of a quantity known only to lie within ±half_width: all values alike
// (GUM 4.3.7), or the middle likelier than the edges (GUM 4.3.9). A gauge read to 0.1 mm:
// half_width 0.05 mm.
double sd_of_rectangle(double half_width);
double sd_of_triangle(double half_width);

// Sum in quadrature of independent contributions (GUM 5.1.2), each already multiplied by its
// sensitivity. 0 for none.
double combined_sd(std::span<const double> contributions);

// One contribution to a combined uncertainty. Infinite degrees of freedom: taken as exactly known.
struct Contribution {
  double sd = 0;
  double degrees_of_freedom = std::numeric_limits<double>::infinity();
};

// Welch–Satterthwaite (GUM G.2b). Infinite if no contribution has finite degrees of freedom; NaN
// for none or all zero. Degrees of freedom must be positive.
double effective_degrees_of_freedom(std::span<const Contribution> contributions);

// Mean of readings of one quantity, each with its own uncertainty, weighted by 1/sd².
struct WeightedMean {
  double mean = std::numeric_limits<double>::quiet_NaN();
  double stated_sd =
      std::numeric_limits<double>::quiet_NaN();  // from the stated uncertainties alone
  // sqrt(chi² / (count − 1)): scatter found over scatter stated (R. T. Birge, "The calculation of
  // errors by the method of least squares", Phys. Rev. 40 (1932) 207). 1 for a single reading.
  double birge_ratio = 1;
  int count = 0;

  // Stated uncertainty, widened by the Birge ratio where the readings disagree; never narrowed,
  // since few readings may agree by chance.
  double sd() const { return birge_ratio > 1 ? stated_sd * birge_ratio : stated_sd; }
};

// Equal lengths and positive uncertainties are the caller's duty. NaN for no readings.
WeightedMean weighted_mean(std::span<const double> readings, std::span<const double> sds);

}  // namespace batten

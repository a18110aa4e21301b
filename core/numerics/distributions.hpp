// Chances of a result as far out or farther, where nothing but noise is at work.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace batten {

// Both tails of the standard normal distribution beyond ±z; 1 at 0.
double normal_beyond(double z);

// Both tails of Student's t beyond ±t; `degrees` > 0. Regularised incomplete beta function by its
// continued fraction (DLMF 8.17.22); within 1e-10.
double student_beyond(double t, double degrees);

// Upper tail of chi-squared; x ≥ 0, `degrees` > 0. Regularised incomplete gamma function by series
// below degrees/2 + 1 and continued fraction above (DLMF 8.7.1, 8.9.2); within 1e-10.
double chi_squared_above(double x, double degrees);

// Which of several chances count as findings, so that of those found the expected share that is
// noise stays at `rate` (0…1) at most: Y. Benjamini, Y. Hochberg, "Controlling the false discovery
// rate", J. R. Statist. Soc. B 57 (1995) 289, for looks that are independent or hang together
// positively. Same order; NaN is never found and does not count as a look.
std::vector<bool> findings_at_rate(std::span<const double> chances, double rate);

}  // namespace batten

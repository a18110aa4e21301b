// Linear least squares with its uncertainty: column-scaled, column-pivoted Householder QR.
#pragma once

#include "core/outcome/outcome.hpp"

#include <Eigen/Core>

#include <limits>

namespace batten {

// Where the covariance of the coefficients takes its scale from.
enum class NoiseScale {
  from_residuals,  // the stated deviations give ratios only; their common factor is estimated
  as_stated,       // the stated deviations are believed
};

struct LinearFitOptions {
  NoiseScale noise = NoiseScale::from_residuals;
  // A scaled column counts as dependent on the others when its pivot falls below this share of the
  // largest. 0: machine epsilon times the number of columns.
  double rank_tolerance = 0;
};

struct LinearFit {
  Eigen::VectorXd coefficients;
  // Of the coefficients. All NaN when the rank is short, or when the scale is to come from the
  // residuals and there are no more rows than coefficients.
  Eigen::MatrixXd covariance;
  Eigen::VectorXd residuals;  // observed − fitted, unweighted
  // sqrt(sum of squared weighted residuals / degrees of freedom): with standard deviations given, 1
  // means that they explain the scatter. NaN with no degrees of freedom.
  double residual_sd = std::numeric_limits<double>::quiet_NaN();
  int rank = 0;
  int degrees_of_freedom = 0;  // rows − rank

  bool full_rank() const { return rank == coefficients.size(); }
  // Standard deviation of coefficient i.
  double sd(Eigen::Index i) const;
};

// Minimises sum(((observed − design·coefficients)/sd)²). `sd` has one positive standard deviation
// per row, or is empty for equal ones.
//
// Short rank is reported, not hidden: the coefficients then fit as well as any others do, those of
// the columns that were found dependent are 0, and the covariance is NaN.
//
// Accuracy on the NIST StRD linear sets (tests/numerics), correct digits of the worst coefficient:
// at least 12 for Norris and Pontius, 13.5 for NoInt1 and NoInt2, 10 for Longley, 7 for Filip (a
// polynomial of degree 10, condition number about 1e15 unscaled), 5.5 to 11.5 for Wampler 1–5.
//
// Errors: no rows or columns, unequal lengths, anything not finite, a deviation not positive.
Result<LinearFit> solve_linear(const Eigen::MatrixXd& design, const Eigen::VectorXd& observed,
                               const Eigen::VectorXd& sd = {},
                               const LinearFitOptions& options = {});

}  // namespace batten

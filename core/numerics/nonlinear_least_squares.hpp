// Nonlinear least squares: Levenberg–Marquardt (the MINPACK algorithm as Eigen carries it).
#pragma once

#include "core/outcome/outcome.hpp"

#include <Eigen/Core>

#include <functional>
#include <limits>
#include <string_view>

namespace batten {

// What is to be fitted: residuals of `residual_count` observations, each already divided by its
// standard deviation where the observations are not equally good.
struct NonlinearModel {
  int residual_count = 0;
  // Fills `residuals` (already of the right size); may leave NaN or infinity where the model does
  // not exist: the search steps back from there.
  std::function<void(const Eigen::VectorXd& parameters, Eigen::VectorXd& residuals)> calc_residuals;
  // Fills the matrix of d residual(row) / d parameter(column). Left empty, central differences are
  // taken, at the cost of two calls of calc_residuals per parameter.
  std::function<void(const Eigen::VectorXd& parameters, Eigen::MatrixXd& jacobian)> calc_jacobian;
};

struct NonlinearOptions {
  // Stop when the sum of squares, or the parameters relative to their own size, change by less than
  // this share in one step. A sum of squares is flat at its minimum: a share of 1e-14 there is one
  // of 1e-7 in a parameter, so it is asked to be smaller than rounding and the parameters decide.
  double sum_of_squares_tolerance = 1e-18;
  double parameter_tolerance = 1e-12;
  int max_evaluations = 2000;  // calls of calc_residuals, those for differences not counted
  // First step at most this many times the scaled length of the starting parameters. Smaller keeps
  // the search near the start, larger lets it cross to plateaus where the model stops depending on
  // a parameter: at 100, the customary value, BoxBOD from its far start ends on one.
  double first_step = 10;
};

enum class Termination {
  converged,  // a tolerance was met
  rounding,   // no further progress possible in double precision
  out_of_evaluations,
  not_finite,  // derivatives left the finite numbers
};

struct NonlinearSummary {
  Termination termination = Termination::not_finite;
  Eigen::VectorXd parameters;  // the best found, whatever the termination
  // Scaled by the residuals, as for LinearFit; NaN where rank or degrees of freedom are short.
  Eigen::MatrixXd covariance;
  double sum_of_squares = 0;
  double residual_sd = std::numeric_limits<double>::quiet_NaN();
  int rank = 0;  // of the Jacobian at the solution
  int degrees_of_freedom = 0;
  int iterations = 0;
  int evaluations = 0;

  // The search came to an end at a point that determines every parameter. A local minimum cannot be
  // told from the global one.
  bool usable() const {
    return (termination == Termination::converged || termination == Termination::rounding) &&
           rank == parameters.size();
  }
  double sd(Eigen::Index i) const;
};

// Minimises the sum of squared residuals from `start`.
//
// Accuracy on all 27 NIST StRD nonlinear sets, from both published starts, with exact derivatives
// and with central differences (tests/numerics): at least 6.5 correct digits in the worst parameter
// (6 for ENSO, 5.5 for Lanczos3), 6 in its standard deviation (5.5 for Lanczos3; 2 for Lanczos1,
// whose residuals are the rounding of the data).
//
// Errors: no parameters, fewer residuals than parameters, no function, residuals not finite at the
// start, options not positive.
Result<NonlinearSummary> solve_nonlinear(const NonlinearModel& model, const Eigen::VectorXd& start,
                                         const NonlinearOptions& options = {});

// A few words for a termination.
std::string_view words(Termination termination);

}  // namespace batten

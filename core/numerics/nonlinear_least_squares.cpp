#include "core/numerics/nonlinear_least_squares.hpp"

#include "core/numerics/least_squares.hpp"

#include <Eigen/QR>

#include <cmath>
#include <unsupported/Eigen/NonLinearOptimization>
#include <unsupported/Eigen/NumericalDiff>

namespace batten {
namespace {

// Stands in for residuals that do not exist: so far above any real one that the step is refused and
// the next one made shorter.
constexpr double refused = 1e100;

// Central differences are best with steps of the cube root of the rounding error (truncation falls
// with the square of the step, rounding with its inverse). NumericalDiff steps by the square root
// of what it is given.
double difference_setting() { return std::pow(std::numeric_limits<double>::epsilon(), 2.0 / 3.0); }

struct Residuals {
  using Scalar = double;
  using InputType = Eigen::VectorXd;
  using ValueType = Eigen::VectorXd;
  using JacobianType = Eigen::MatrixXd;
  enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

  const NonlinearModel* model;
  Eigen::Index parameter_count;

  int inputs() const { return static_cast<int>(parameter_count); }
  int values() const { return model->residual_count; }
  int operator()(const Eigen::VectorXd& parameters, Eigen::VectorXd& residuals) const {
    model->calc_residuals(parameters, residuals);
    if (!residuals.allFinite()) residuals.setConstant(refused);
    return 0;
  }
};

struct Derivatives : Residuals {
  // Eigen stops when told a negative number.
  int df(const Eigen::VectorXd& parameters, Eigen::MatrixXd& jacobian) const {
    if (model->calc_jacobian) {
      jacobian.setZero();
      model->calc_jacobian(parameters, jacobian);
    } else {
      const Residuals& plain = *this;
      const Eigen::NumericalDiff<Residuals, Eigen::Central> differences(plain,
                                                                        difference_setting());
      differences.df(parameters, jacobian);
    }
    return jacobian.allFinite() ? 0 : -1;
  }
};

Termination termination_of(Eigen::LevenbergMarquardtSpace::Status status) {
  using enum Eigen::LevenbergMarquardtSpace::Status;
  switch (status) {
    case RelativeReductionTooSmall:
    case RelativeErrorTooSmall:
    case RelativeErrorAndReductionTooSmall:
    case CosinusTooSmall:
      return Termination::converged;
    case FtolTooSmall:
    case XtolTooSmall:
    case GtolTooSmall:
      return Termination::rounding;
    case TooManyFunctionEvaluation:
      return Termination::out_of_evaluations;
    default:
      return Termination::not_finite;
  }
}

}  // namespace

double NonlinearSummary::sd(Eigen::Index i) const { return std::sqrt(covariance(i, i)); }

Result<NonlinearSummary> solve_nonlinear(const NonlinearModel& model, const Eigen::VectorXd& start,
                                         const NonlinearOptions& options) {
  if (start.size() == 0 || !model.calc_residuals) return problem("There is nothing to fit.");
  if (model.residual_count < start.size())
    return problem("There are fewer readings than unknowns.", "Read more, or fix an unknown.");
  if (!(options.sum_of_squares_tolerance > 0) || !(options.parameter_tolerance > 0) ||
      !(options.first_step > 0) || options.max_evaluations <= 0)
    return problem("The settings of the fit must be positive.");
  Eigen::VectorXd residuals(model.residual_count);
  model.calc_residuals(start, residuals);
  if (!start.allFinite() || !residuals.allFinite())
    return problem("The model has no value at the starting values.", "Start elsewhere.");

  Derivatives functor{{&model, start.size()}};
  Eigen::LevenbergMarquardt<Derivatives> search(functor);
  search.parameters.ftol = options.sum_of_squares_tolerance;
  search.parameters.xtol = options.parameter_tolerance;
  search.parameters.gtol = 0;
  search.parameters.maxfev = options.max_evaluations;
  search.parameters.factor = options.first_step;

  NonlinearSummary summary;
  summary.parameters = start;
  summary.termination = termination_of(search.minimize(summary.parameters));
  summary.iterations = static_cast<int>(search.iter);
  summary.evaluations = static_cast<int>(search.nfev);

  model.calc_residuals(summary.parameters, residuals);
  summary.sum_of_squares = residuals.squaredNorm();
  Eigen::MatrixXd jacobian(model.residual_count, start.size());
  const Eigen::Index count = start.size();
  summary.covariance =
      Eigen::MatrixXd::Constant(count, count, std::numeric_limits<double>::quiet_NaN());
  summary.degrees_of_freedom = model.residual_count - static_cast<int>(count);
  if (summary.degrees_of_freedom > 0)
    summary.residual_sd =
        std::sqrt(summary.sum_of_squares / static_cast<double>(summary.degrees_of_freedom));
  if (functor.df(summary.parameters, jacobian) < 0) return summary;
  // At the minimum the model is its tangent: the linear fit there gives rank and covariance.
  const Result<LinearFit> tangent =
      solve_linear(jacobian, residuals, {}, {.noise = NoiseScale::as_stated});
  if (!tangent) return summary;
  summary.rank = tangent->rank;
  if (tangent->full_rank() && summary.degrees_of_freedom > 0)
    summary.covariance = tangent->covariance * (summary.residual_sd * summary.residual_sd);
  return summary;
}

std::string_view words(Termination termination) {
  switch (termination) {
    case Termination::converged:
      return "converged";
    case Termination::rounding:
      return "as exact as the computer's numbers allow";
    case Termination::out_of_evaluations:
      return "not finished within the allowed number of trials";
    case Termination::not_finite:
      return "stopped where the model has no value";
  }
  return "";
}

}  // namespace batten

#include "core/numerics/least_squares.hpp"

#include <Eigen/QR>

#include <cmath>

namespace batten {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

// Squares of the columns are compared while pivoting, so that columns of very different size
// (powers of x) would choose the pivots by their units. Powers of two scale without rounding.
Eigen::VectorXd column_scales(const Eigen::MatrixXd& matrix) {
  Eigen::VectorXd scales(matrix.cols());
  for (Eigen::Index j = 0; j < matrix.cols(); ++j) {
    const double norm = matrix.col(j).stableNorm();
    scales[j] = norm > 0 ? std::exp2(-std::round(std::log2(norm))) : 1.0;
  }
  return scales;
}

}  // namespace

double LinearFit::sd(Eigen::Index i) const { return std::sqrt(covariance(i, i)); }

Result<LinearFit> solve_linear(const Eigen::MatrixXd& design, const Eigen::VectorXd& observed,
                               const Eigen::VectorXd& sd, const LinearFitOptions& options) {
  const Eigen::Index rows = design.rows();
  const Eigen::Index columns = design.cols();
  if (rows == 0 || columns == 0) return problem("There is nothing to fit: no rows or no unknowns.");
  if (observed.size() != rows || (sd.size() != 0 && sd.size() != rows))
    return problem("The readings, their uncertainties and the model differ in number.");
  if (!design.allFinite() || !observed.allFinite() || !sd.allFinite())
    return problem("A number to be fitted is missing or infinite.");
  if (sd.size() != 0 && sd.minCoeff() <= 0)
    return problem("An uncertainty is zero or negative.", "Give every reading a positive one.");

  const Eigen::VectorXd weights =
      sd.size() == 0 ? Eigen::VectorXd::Ones(rows).eval() : sd.cwiseInverse().eval();
  Eigen::MatrixXd weighted = weights.asDiagonal() * design;
  const Eigen::VectorXd scales = column_scales(weighted);
  weighted = weighted * scales.asDiagonal();

  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(rows, columns);
  if (options.rank_tolerance > 0) qr.setThreshold(options.rank_tolerance);
  qr.compute(weighted);

  LinearFit fit;
  fit.rank = static_cast<int>(qr.rank());
  fit.degrees_of_freedom = static_cast<int>(rows) - fit.rank;
  const Eigen::VectorXd target = weights.cwiseProduct(observed);
  // Eigen leaves the coefficients beyond the rank at 0.
  fit.coefficients = scales.cwiseProduct(qr.solve(target));
  fit.residuals = observed - design * fit.coefficients;
  if (!fit.coefficients.allFinite() || !fit.residuals.allFinite())
    return problem("The numbers to be fitted are too large or too small to calculate with.");
  if (fit.degrees_of_freedom > 0)
    fit.residual_sd = weights.cwiseProduct(fit.residuals).stableNorm() /
                      std::sqrt(static_cast<double>(fit.degrees_of_freedom));

  fit.covariance = Eigen::MatrixXd::Constant(columns, columns, nan);
  if (!fit.full_rank()) return fit;
  // (AᵀA)⁻¹ = P R⁻¹ R⁻ᵀ Pᵀ, never forming AᵀA, whose condition is the square of A's.
  const Eigen::MatrixXd inverse = qr.matrixR()
                                      .topLeftCorner(columns, columns)
                                      .triangularView<Eigen::Upper>()
                                      .solve(Eigen::MatrixXd::Identity(columns, columns));
  const Eigen::MatrixXd root = scales.asDiagonal() * (qr.colsPermutation() * inverse);
  const double factor = options.noise == NoiseScale::as_stated ? 1.0 : fit.residual_sd;
  fit.covariance = (factor * root) * (factor * root).transpose();
  return fit;
}

}  // namespace batten

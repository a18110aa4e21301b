#include "core/fairing/section_model.hpp"

#include <Eigen/Cholesky>

#include <cmath>

namespace batten::fairing {

namespace {

// Columns 1, t, t^2 - 1/3 with t from -1 to 1 over the section: nearly orthogonal, so that the
// priors of rise and bow mean what they say.
Eigen::MatrixXd mean_basis(const Eigen::VectorXd& keys, double first, double last) {
  const double half = std::max(0.5, (last - first) / 2);
  const Eigen::ArrayXd t = (keys.array() - (first + last) / 2) / half;
  Eigen::MatrixXd basis(keys.size(), 3);
  basis.col(0).setOnes();
  basis.col(1) = t.matrix();
  basis.col(2) = (t.square() - 1.0 / 3).matrix();
  return basis;
}

}  // namespace

double matern52(double distance, double reach) {
  const double a = std::sqrt(5.0) * std::abs(distance) / reach;
  return (1 + a + a * a / 3) * std::exp(-a);
}

Eigen::MatrixXd prior_covariance(const Eigen::VectorXd& a, const Eigen::VectorXd& b, double first,
                                 double last, const Hyperparameters& h, const MeanPrior& mean) {
  const Eigen::Vector3d variance(mean.offset * mean.offset, mean.slope * mean.slope,
                                 mean.bow * mean.bow);
  // Keys are whole numbers a section apart at most, so few distances occur: one table, not n^2
  // exponentials.
  const auto span = static_cast<Eigen::Index>(std::lround(last - first)) + 1;
  Eigen::VectorXd table(span);
  for (Eigen::Index r = 0; r < span; ++r)
    table[r] = h.amplitude * h.amplitude * matern52(static_cast<double>(r), h.reach);

  Eigen::MatrixXd k =
      mean_basis(a, first, last) * variance.asDiagonal() * mean_basis(b, first, last).transpose();
  for (Eigen::Index j = 0; j < b.size(); ++j)
    for (Eigen::Index i = 0; i < a.size(); ++i)
      k(i, j) += table[static_cast<Eigen::Index>(std::lround(std::abs(a[i] - b[j])))];
  return k;
}

Prior calc_prior(const SectionData& data, const Hyperparameters& h, const MeanPrior& mean) {
  Prior p;
  p.readings = prior_covariance(data.keys, data.keys, data.first, data.last, h, mean);
  p.cross = prior_covariance(data.keys, data.target_keys, data.first, data.last, h, mean);
  const Eigen::MatrixXd basis = mean_basis(data.target_keys, data.first, data.last);
  const Eigen::Vector3d variance(mean.offset * mean.offset, mean.slope * mean.slope,
                                 mean.bow * mean.bow);
  p.target_variance =
      (basis.array().square().matrix() * variance).array() + h.amplitude * h.amplitude;
  return p;
}

Posterior calc_posterior(const SectionData& data, const Prior& prior, double noise_factor) {
  const Eigen::Index n = data.keys.size();
  Eigen::MatrixXd k = prior.readings;
  k.diagonal().array() += (data.sd.array() * noise_factor).square();
  const Eigen::LLT<Eigen::MatrixXd> factor(k);

  // Through the factor, not the inverse: the wide prior of the offset (2,500 mm^2) cancels out of
  // the variance, and an explicit inverse would leave five digits of it instead of ten.
  Posterior p;
  p.inverse = factor.solve(Eigen::MatrixXd::Identity(n, n));
  p.alpha = factor.solve(data.heights);
  const double log_det = 2 * factor.matrixLLT().diagonal().array().log().sum();
  p.log_evidence = -0.5 * (data.heights.dot(p.alpha) + log_det);
  p.mean = prior.cross.transpose() * p.alpha;
  p.gain = prior.cross;
  factor.matrixL().solveInPlace(p.gain);
  p.variance = prior.target_variance - p.gain.colwise().squaredNorm().transpose();
  factor.matrixU().solveInPlace(p.gain);
  return p;
}

Posterior calc_posterior(const SectionData& data, const Hyperparameters& h, const MeanPrior& mean) {
  return calc_posterior(data, calc_prior(data, h, mean), h.noise_factor);
}

}  // namespace batten::fairing

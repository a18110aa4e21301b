#include "core/fairing/hypotheses.hpp"

#include <Eigen/LU>

#include <algorithm>
#include <cmath>

namespace batten::fairing {

namespace {

// Hypotheses that carry less than this share of the weight are left out of the curve.
constexpr double negligible_share = 1e-5;

// (K + D)^-1 = P - P_S (D_S^-1 + P_SS)^-1 P_S^T for P = K^-1 and D = diag(wrong^2) on the suspects.
struct Update {
  Eigen::MatrixXd core;   // (D_S^-1 + P_SS)^-1
  double log_det_change;  // log |K + D| - log |K|
};

Update calc_update(const Posterior& p, const Suspects& s, const Eigen::VectorXd& wrong) {
  const auto n = static_cast<Eigen::Index>(s.size());
  Eigen::MatrixXd inner(n, n);
  double log_d = 0;
  for (Eigen::Index i = 0; i < n; ++i) {
    const double w = wrong[s[static_cast<std::size_t>(i)]];
    for (Eigen::Index j = 0; j < n; ++j)
      inner(i, j) = p.inverse(s[static_cast<std::size_t>(i)], s[static_cast<std::size_t>(j)]);
    inner(i, i) += 1 / (w * w);
    log_d += 2 * std::log(w);
  }
  const Eigen::PartialPivLU<Eigen::MatrixXd> lu(inner);
  return {lu.inverse(), std::log(std::abs(lu.determinant())) + log_d};
}

Eigen::VectorXd pick(const Eigen::VectorXd& v, const Suspects& s) {
  Eigen::VectorXd out(static_cast<Eigen::Index>(s.size()));
  for (std::size_t i = 0; i < s.size(); ++i) out[static_cast<Eigen::Index>(i)] = v[s[i]];
  return out;
}

Eigen::MatrixXd pick_rows(const Eigen::MatrixXd& m, const Suspects& s) {
  Eigen::MatrixXd out(static_cast<Eigen::Index>(s.size()), m.cols());
  for (std::size_t i = 0; i < s.size(); ++i) out.row(static_cast<Eigen::Index>(i)) = m.row(s[i]);
  return out;
}

}  // namespace

Eigen::VectorXd wrong_sd(const Posterior& central, const Suspects& disarmed,
                         const Eigen::VectorXd& wrong, const WrongPrior& prior) {
  // A reading's own noise drops out of its leave-one-out residual, so the disarmed are judged by
  // the same formula as the rest.
  const Eigen::MatrixXd inverse = inverse_under(central, disarmed, wrong);
  Eigen::VectorXd alpha = central.alpha;
  if (!disarmed.empty()) {
    const Update u = calc_update(central, disarmed, wrong);
    alpha -=
        pick_rows(central.inverse, disarmed).transpose() * (u.core * pick(central.alpha, disarmed));
  }
  const Eigen::ArrayXd residual = alpha.array() / inverse.diagonal().array();
  return (residual.square() + prior.spread * prior.spread).sqrt().matrix();
}

const Suspects& likeliest(const Posterior& central, const std::vector<Suspects>& hypotheses,
                          const Eigen::VectorXd& wrong, const WrongPrior& prior) {
  return *std::max_element(
      hypotheses.begin(), hypotheses.end(), [&](const Suspects& a, const Suspects& b) {
        return log_weight(central, a, wrong, prior) < log_weight(central, b, wrong, prior);
      });
}

double log_weight(const Posterior& p, const Suspects& suspects, const Eigen::VectorXd& wrong,
                  const WrongPrior& prior) {
  const auto n = p.alpha.size();
  const auto k = static_cast<Eigen::Index>(suspects.size());
  const double chance =
      static_cast<double>(k) * prior.log_share + static_cast<double>(n - k) * prior.log_rest;
  if (k == 0) return p.log_evidence + chance;
  if (k == 1) {  // the common case, without matrices
    const Eigen::Index i = suspects[0];
    const double d = wrong[i] * wrong[i];
    const double gain = 1 + d * p.inverse(i, i);
    return p.log_evidence + chance + 0.5 * (p.alpha[i] * p.alpha[i] * d / gain - std::log(gain));
  }
  if (k == 2) {
    const Eigen::Index i = suspects[0], j = suspects[1];
    const double di = wrong[i] * wrong[i], dj = wrong[j] * wrong[j];
    const double a = 1 / di + p.inverse(i, i), b = 1 / dj + p.inverse(j, j), c = p.inverse(i, j);
    const double det = a * b - c * c;
    const double x = p.alpha[i], y = p.alpha[j];
    const double quad = (b * x * x - 2 * c * x * y + a * y * y) / det;
    return p.log_evidence + chance + 0.5 * (quad - std::log(det * di * dj));
  }
  const Update u = calc_update(p, suspects, wrong);
  const Eigen::VectorXd a = pick(p.alpha, suspects);
  return p.log_evidence + chance + 0.5 * (a.dot(u.core * a) - u.log_det_change);
}

std::vector<Suspects> list_hypotheses(const Posterior& central, const Eigen::VectorXd& wrong,
                                      const WrongPrior& prior) {
  const Eigen::Index n = central.alpha.size();
  std::vector<Suspects> list{{}};
  Suspects best;
  double best_weight = log_weight(central, {}, wrong, prior);
  const auto consider = [&](Suspects s) {
    const double w = log_weight(central, s, wrong, prior);
    list.push_back(s);
    if (w > best_weight) {
      best_weight = w;
      best = std::move(s);
    }
  };
  for (Eigen::Index i = 0; i < n; ++i) consider({i});
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = i + 1; j < n; ++j) consider({i, j});
  // Grown sets: more than two wrong readings in one section are rare, and each is only of interest
  // where a smaller set already explains a good deal.
  while (best.size() >= 2 && static_cast<Eigen::Index>(best.size()) < n / 2) {
    // A copy: `best` changes below. NOLINTNEXTLINE(performance-unnecessary-copy-initialization)
    const Suspects base = best;
    for (Eigen::Index i = 0; i < n; ++i) {
      if (std::find(base.begin(), base.end(), i) != base.end()) continue;
      Suspects s = base;
      s.insert(std::upper_bound(s.begin(), s.end(), i), i);
      consider(std::move(s));
    }
    if (best == base) break;
  }
  return list;
}

Moments blend(const Posterior& p, const std::vector<Suspects>& hypotheses,
              const std::vector<double>& shares, const Eigen::VectorXd& wrong) {
  // With G the gain, m and v the all-good mean and variance: a hypothesis moves the mean by -G^T b
  // and adds diag(G^T C G) to the variance, where C is the update's core set among zeros and
  // b = C alpha. So the sums over hypotheses are taken of b and of C + b b^T, readings across, and
  // meet the targets once.
  const Eigen::Index n = p.alpha.size();
  Eigen::VectorXd shift = Eigen::VectorXd::Zero(n);
  Eigen::MatrixXd spread = Eigen::MatrixXd::Zero(n, n);
  double total = 0;
  for (std::size_t h = 0; h < hypotheses.size(); ++h) {
    if (shares[h] < negligible_share) continue;
    total += shares[h];
    const Suspects& s = hypotheses[h];
    if (s.empty()) continue;
    const Update u = calc_update(p, s, wrong);
    const Eigen::VectorXd b = u.core * pick(p.alpha, s);
    for (std::size_t i = 0; i < s.size(); ++i) {
      const auto row = static_cast<Eigen::Index>(i);
      shift[s[i]] += shares[h] * b[row];
      for (std::size_t j = 0; j < s.size(); ++j) {
        const auto col = static_cast<Eigen::Index>(j);
        spread(s[i], s[j]) += shares[h] * (u.core(row, col) + b[row] * b[col]);
      }
    }
  }
  Moments out;
  out.share = total;
  if (total == 0) {
    out.mean = out.square = Eigen::VectorXd::Zero(p.mean.size());
    return out;
  }
  const Eigen::VectorXd moved = -(p.gain.transpose() * shift);
  out.mean = total * p.mean + moved;
  out.square = total * (p.variance + p.mean.cwiseAbs2()) + 2 * p.mean.cwiseProduct(moved) +
               p.gain.cwiseProduct(spread * p.gain).colwise().sum().transpose();
  return out;
}

Eigen::MatrixXd inverse_under(const Posterior& p, const Suspects& suspects,
                              const Eigen::VectorXd& wrong) {
  if (suspects.empty()) return p.inverse;
  const Update u = calc_update(p, suspects, wrong);
  const Eigen::MatrixXd rows = pick_rows(p.inverse, suspects);
  return p.inverse - rows.transpose() * (u.core * rows);
}

}  // namespace batten::fairing

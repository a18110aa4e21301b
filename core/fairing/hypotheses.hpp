// Which readings of a section are wrong: sets of suspects, weighed by evidence. Internal to
// core/fairing.
#pragma once

#include "core/fairing/section_model.hpp"

#include <Eigen/Core>

#include <cmath>
#include <vector>

namespace batten::fairing {

// Indices of readings taken to be wrong, rising; empty: all are good.
using Suspects = std::vector<Eigen::Index>;

struct WrongPrior {
  double share;   // chance, before looking, that a reading is wrong
  double spread;  // mm
  double log_share = std::log(share);
  double log_rest = std::log1p(-share);
};

// How far each reading would lie off if it were wrong, mm: `spread` and its own leave-one-out
// residual together, so that a slip of 100 mm carries no more weight than one of 5. `disarmed`
// (under `wrong`) are readings already taken to be wrong, so that their slips do not pass for
// residuals of their neighbours; none at first.
Eigen::VectorXd wrong_sd(const Posterior& central, const Suspects& disarmed,
                         const Eigen::VectorXd& wrong, const WrongPrior& prior);

// The sets worth weighing: none, every single one, every pair, and larger sets grown one by one
// from the best pair for as long as the evidence rises.
std::vector<Suspects> list_hypotheses(const Posterior& central, const Eigen::VectorXd& wrong,
                                      const WrongPrior& prior);

// log of evidence times prior chance. A suspect keeps its place in the data with `wrong`^2 added to
// its variance; by the Woodbury identity that is a small update of the all-good posterior.
double log_weight(const Posterior& p, const Suspects& suspects, const Eigen::VectorXd& wrong,
                  const WrongPrior& prior);

// The one of most weight.
const Suspects& likeliest(const Posterior& central, const std::vector<Suspects>& hypotheses,
                          const Eigen::VectorXd& wrong, const WrongPrior& prior);

// What a mixture of hypotheses says of the curve at the targets: sums of share * mean and of
// share * (variance + mean^2) over those whose share is not negligible (1e-5), and of their shares.
struct Moments {
  Eigen::VectorXd mean, square;  // mm, mm^2; per target
  double share = 0;
};
Moments blend(const Posterior& p, const std::vector<Suspects>& hypotheses,
              const std::vector<double>& shares, const Eigen::VectorXd& wrong);

// The inverse of the readings' covariance under a hypothesis.
Eigen::MatrixXd inverse_under(const Posterior& p, const Suspects& suspects,
                              const Eigen::VectorXd& wrong);

}  // namespace batten::fairing

#include "core/regulation/influence/responses.hpp"

#include <cassert>
#include <cmath>

namespace batten {
namespace {

// Indexed as the adjusters. Pitches of the screws, in millimetres a turn at the part, from memory
// and common practice, no source; punchings and what is bent are given in millimetres at the part,
// and cloth and wire give a little.
constexpr std::array<ScrewPrior, note_adjuster_count> priors{{
    {0.90, 0.15, 0.03, 0.02},  // capstan
    {1.00, 0.05, 0.02, 0.02},  // balance punchings
    {1.00, 0.05, 0.02, 0.02},  // front punchings
    {0.70, 0.15, 0.03, 0.02},  // jack button
    {0.60, 0.15, 0.03, 0.02},  // lever-height button
    {0.50, 0.30, 0.10, 0.10},  // repetition spring: tenths of its strength a step
    {0.70, 0.15, 0.03, 0.02},  // let-off button
    {0.70, 0.15, 0.03, 0.02},  // drop screw
    {1.00, 0.20, 0.05, 0.05},  // back check
    {1.00, 0.20, 0.05, 0.05},  // damper wire
}};

// A misread: how often, and how many times as wide (estimates).
constexpr double misread_share = 0.03, misread_width = 10;
// A response farther than so many standard deviations from what was believed raises a question;
// the wrong sign does where the move was large enough to be seen at all.
constexpr double far_off = 3.5, seen_at_all = 3;

}  // namespace

const ScrewPrior& screw_prior(Adjuster adjuster) {
  assert(index_of(adjuster) < priors.size());
  return priors[index_of(adjuster)];
}

Responses::Responses(std::size_t registers) : registers_(registers) {
  assert(registers > 0);
  const auto n = static_cast<Eigen::Index>(registers);
  for (std::size_t a = 0; a < note_adjuster_count; ++a) {
    const ScrewPrior& p = priors[a];
    states_[a].mean = Eigen::VectorXd::Ones(n);
    states_[a].cov = Eigen::MatrixXd::Constant(n, n, p.sd_piano * p.sd_piano);
    states_[a].cov.diagonal().array() += p.sd_register * p.sd_register;
    states_[a].seen.assign(registers, 0);
  }
}

Factor Responses::factor(Adjuster adjuster, std::size_t reg) const {
  const State& s = states_[index_of(adjuster)];
  const auto r = static_cast<Eigen::Index>(reg);
  return {s.mean(r), std::sqrt(s.cov(r, r))};
}

int Responses::moves_seen(Adjuster adjuster, std::size_t reg) const {
  return states_[index_of(adjuster)].seen[reg];
}

Doubtful Responses::learn(const MoveSeen& move) {
  State& s = states_[index_of(move.adjuster)];
  const auto r = static_cast<Eigen::Index>(move.reg);
  const double own = screw_prior(move.adjuster).sd_screw * move.predicted;
  const double noise = move.sd * move.sd + own * own;
  const double spread = move.predicted * move.predicted * s.cov(r, r);
  const double off = move.seen - move.predicted * s.mean(r);
  // Share of the evidence by which the move was well read.
  const auto density = [&](double variance) {
    return std::exp(-0.5 * off * off / variance) / std::sqrt(variance);
  };
  const double well = (1 - misread_share) * density(spread + noise);
  const double ill = misread_share * density(spread + misread_width * misread_width * noise);
  const double trust = well + ill > 0 ? well / (well + ill) : 0;
  // Mixture brought back to one Gaussian by its two first moments.
  const auto gain_of = [&](double n) {
    return Eigen::VectorXd(s.cov.col(r) * (move.predicted / (spread + n)));
  };
  const double wide = misread_width * misread_width * noise;
  const Eigen::VectorXd good = gain_of(noise), bad = gain_of(wide);
  const Eigen::VectorXd step = trust * good + (1 - trust) * bad;
  const Eigen::VectorXd part = (good - bad) * off;
  s.cov -= (trust * (spread + noise)) * good * good.transpose() +
           ((1 - trust) * (spread + wide)) * bad * bad.transpose();
  s.cov += trust * (1 - trust) * part * part.transpose();
  s.mean += step * off;
  ++s.seen[move.reg];

  if (move.seen * move.predicted < 0 && std::abs(move.seen) > seen_at_all * move.sd &&
      std::abs(move.predicted) > seen_at_all * move.sd)
    return Doubtful::wrong_sign;
  if (off * off > far_off * far_off * (spread + noise)) return Doubtful::far_from_prior;
  return Doubtful::no;
}

}  // namespace batten

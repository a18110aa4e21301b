// How far a part moves for a turn on this piano: a stated prior, learned from moves read before and
// after.
#pragma once

#include "core/regulation/aims/aim.hpp"

#include <Eigen/Core>

#include <array>
#include <cstddef>
#include <vector>

namespace batten {

// Of one adjuster: millimetres at the part per unit of the catalogue (turn, mm, bend step; the
// spring: tenths of its strength per step), before anything is learned.
struct ScrewPrior {
  double per_unit = 1;
  double sd_piano = 0.15;     // share, from piano to piano; of pitch and levers alike
  double sd_register = 0.03;  // share, between registers of one piano
  double sd_screw = 0.02;     // share, from screw to screw
};
// Pitches are from memory and common practice, no source.
const ScrewPrior& screw_prior(Adjuster adjuster);

// One move read before and after.
struct MoveSeen {
  Adjuster adjuster = Adjuster::capstan;
  std::size_t reg = 0;   // register (section) index
  double predicted = 0;  // change of the main aim by model and prior pitch
  double seen = 0;       // change that was read
  double sd = 0;  // of `seen`: both readings, the hand's stop, what other moves may have done
};

struct Factor {
  double mean = 1, sd = 0;  // times the prior
};

enum class Doubtful : std::uint8_t { no, wrong_sign, far_from_prior };

// Factors of all adjusters in all registers of one piano. Linear-Gaussian in the factors: a common
// part per adjuster and one per register, updated move by move (Kalman's recursion, which for
// constant states is Bayesian linear regression); each move is weighed by the chance that it was
// not misread (a mixture with 3 % of readings ten times as wide; estimates).
class Responses {
 public:
  explicit Responses(std::size_t registers);
  Factor factor(Adjuster adjuster, std::size_t reg) const;
  int moves_seen(Adjuster adjuster, std::size_t reg) const;
  // Updates and returns how the move sits with what was believed before it.
  Doubtful learn(const MoveSeen& move);
  std::size_t registers() const { return registers_; }

 private:
  struct State {
    Eigen::VectorXd mean;
    Eigen::MatrixXd cov;
    std::vector<int> seen;
  };
  std::size_t registers_;
  std::array<State, note_adjuster_count> states_;
};

}  // namespace batten

// One note: which of its adjusters to turn, and how much. Internal to core/regulation/planning.
#pragma once

#include "core/regulation/planning/plan.hpp"

#include <array>
#include <cstdint>
#include <vector>

namespace batten::planning {

// Aims, targets and tolerances of one note, and what its adjusters do.
struct NoteTask {
  const NoteState* note = nullptr;
  AimVector target = AimVector::Zero();
  AimVector tolerance = AimVector::Ones();  // the closer of the two
  // Chance to lie outside that is granted beyond the options': of what is read in grades nothing
  // surer can be had.
  AimVector blur = AimVector::Zero();
  std::array<bool, aim_count> asked{};
  std::array<bool, note_adjuster_count> usable{};
  // Columns: change of the aims per unit of the adjuster (turn, mm, step).
  InfluenceMatrix effect = InfluenceMatrix::Zero();
  AdjusterVector share_sd = AdjusterVector::Zero();
  AdjusterVector step = AdjusterVector::Ones();  // least a hand can make
  AdjusterVector most = AdjusterVector::Ones();  // each way, this visit
};

NoteTask make_task(const Situation& s, const ActionModel& model, const NoteState& note);

// Chance that a Gaussian lies outside ±tolerance.
double chance_outside(double off, double sd, double tolerance);
// Chance that it lies on the side its mean lies.
double chance_of_sign(double off, double sd);

// Belief after moves: the mean carried on, the covariance widened by what the moves are unsure of.
struct Belief {
  AimVector mean = AimVector::Zero();
  AimMatrix cov = AimMatrix::Zero();
  double sd(Aim aim) const;
};
Belief after_moves(const NoteTask& task, const AdjusterVector& amounts);

// One step of the way from nothing to all that is worth doing at a note.
struct Depth {
  std::uint32_t adjusters = 0;  // bit per adjuster
  AdjusterVector amounts = AdjusterVector::Zero();
  double cost = 0;  // expected sum over the aims of (deviation / tolerance)²
};

struct Decision {
  AdjusterVector amounts = AdjusterVector::Zero();  // rounded to steps; 0: leave
  std::vector<Depth> depths;                        // the first is "nothing"
  std::vector<Hold> holds;
  // In which the note's own adjusters are to be turned: the passes' order, but for those that must
  // go before another so that no step does harm.
  std::vector<Adjuster> order;
};

// The moves by which every aim that is asked for lands where it should when all are made: weighted
// least squares, 1/tolerance² each, over the adjusters of those aims whose chance to lie outside is
// too large, taken in one by one, the worst first. Dip gives way to the aftertouch as both weigh by
// their tolerances. An adjuster whose own aim is unread, doubted or unsure waits. `order` is the
// working order, along which no step may do harm. `trusted`: adjusters whose response is not in
// question.
Decision decide(const NoteTask& task, const std::vector<Adjuster>& order,
                const std::array<bool, note_adjuster_count>& trusted, const PlanOptions& options);

}  // namespace batten::planning

// What to read and turn, how much, in which order, and why.
#pragma once

#include "core/journal/fold.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/planning/order.hpp"
#include "core/regulation/planning/state.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace batten {

struct PlanOptions {
  // A reading is worked on when the chance that it lies outside its tolerance is above this …
  double act_from = 0.2;
  // … read again after its move when the chance is then above this …
  double reread_from = 0.15;
  // … and a move is asked for only when the chance that it goes the right way is at least this.
  double direction_sureness = 0.98;
  // Chance granted to the worst by which a hammer could block or lose its escapement.
  double harm_chance = 0.002;
  // Minutes there are; nothing: all of it.
  std::optional<double> minutes;
};

// An effect of a move that is worth saying.
struct Effect {
  Aim aim = Aim::blow;
  double change = 0;     // catalogue unit
  double tolerance = 0;  // against neighbours
};

struct Instruction {
  enum class Kind { read, turn } kind = Kind::read;
  Key key;
  Reading reading = Reading::blow;        // what to read; of a turn: what it is for
  Adjuster adjuster = Adjuster::capstan;  // of a turn, and the pass a reading belongs to
  double amount = 0;                      // adjuster's unit, signed as the catalogue says
  std::vector<double> papers;             // mm each, to add (amount > 0) or take out; may be empty
  double minutes = 0;
  bool read_after = false;  // read again after turning; the amount cannot be vouched for
  double before = 0, before_sd = 0;
  double after = 0;       // right after this move
  double at_the_end = 0;  // after the later passes as well
  double target = 0;
  double tolerance = 0;  // against neighbours
  std::vector<Effect> effects;
};

// A move that was wanted and is not asked for.
struct Hold {
  enum class Reason {
    could_block,       // the hammer could come to the string
    could_not_let_go,  // the key could bottom before the jack is tripped
    could_be_carried,  // the hammer might not fall, or the lever could carry it on
    could_trap,        // the jack might not come back under the knuckle
    could_rub,         // the check could touch the tail on the way up
    beyond_limit,      // farther than the adjuster may go in one visit
    response_doubted,  // turns on this piano do not do what they should: see the questions
    direction_unsure,  // smaller than the readings can tell
    lacking,           // the note has no such adjuster
  } reason = Reason::direction_unsure;
  Key key;
  Adjuster adjuster = Adjuster::capstan;
  Reading reading = Reading::blow;
  std::optional<Reading> would_settle;  // reading that could release it
};

struct Pass {
  Adjuster adjuster = Adjuster::capstan;
  std::vector<Instruction> steps;  // readings first, then moves, in working order
  int readings = 0, moves = 0;     // among the steps
  double minutes = 0;              // set-up included
  int done = 0, skipped = 0;       // notes of this visit so far
  bool outside_time = false;       // left out by the minutes there are
};

struct AimSummary {
  Aim aim = Aim::blow;
  int notes = 0, read = 0;      // asked for; read
  int outside = 0;              // believed outside (chance above one half)
  double expected_outside = 0;  // sum of the chances
  double unevenness = 0;        // RMS against target in tolerances, believed now
  double unevenness_after = 0;  // when the plan is carried out
};

struct Plan {
  Situation situation;
  PreparationGate gate;
  OrderReport order;
  std::vector<Pass> passes;  // in working order; those without steps are left out
  std::vector<Hold> holds;
  std::vector<AimSummary> aims;
  std::vector<Instruction> left_for_time;
  double minutes = 0;                           // all passes
  double unevenness = 0, unevenness_after = 0;  // RMS over notes and aims, in tolerances
  std::vector<Caution> cautions;

  // The first step of the first pass; nothing: done.
  const Instruction* next() const;
};

// Pure and quick (docs/theory/planning.md): the plan is made again from the journal after every
// entry. While the preparation gate is shut it holds readings only. No move is asked for that by
// the model, at the worst its uncertainties allow, would block a hammer, take away its escapement,
// leave it to the lever, go past an adjuster's limit, or whose direction is not sure.
Result<Plan> calc_plan(Compass compass, const Standing& standing, const ActionModel& model,
                       const PlanOptions& options = {});

}  // namespace batten

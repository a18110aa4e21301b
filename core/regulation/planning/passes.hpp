// From decisions, note by note, to passes along the keyboard. Internal to core/regulation/planning.
#pragma once

#include "core/regulation/planning/amounts.hpp"
#include "core/regulation/planning/pace.hpp"
#include "core/regulation/planning/plan.hpp"

#include <vector>

namespace batten::planning {

// One per key, same order as the situation's notes.
struct Board {
  std::vector<NoteTask> tasks;
  std::vector<Decision> decisions;
};

// The decisions at every note, the moves made in `order`.
Board make_board(const Situation& s, const ActionModel& model, const std::vector<Adjuster>& order,
                 const PlanOptions& options);

// Root mean square over notes and aims, in tolerances: `which` is one of the two unevennesses.
double overall_unevenness(const std::vector<AimSummary>& aims, double AimSummary::*which);

// Which readings a note still needs before or after its moves of one adjuster.
std::vector<Reading> readings_wanted(const Situation& s, const NoteTask& task,
                                     const Decision& decision, Adjuster adjuster,
                                     const PlanOptions& options);

// All passes in the derived order, those without steps left out; readings only while `gated`.
std::vector<Pass> make_passes(const Situation& s, const Board& board, const OrderReport& order,
                              const Paces& paces, bool gated, const PlanOptions& options);

// How far each adjuster's moves, past and to come, undo what each other sets.
UndoneTable undone_table(const Situation& s, const Board& board);

std::vector<AimSummary> summarise(const Situation& s, const Board& board);

}  // namespace batten::planning

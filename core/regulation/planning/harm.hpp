// What a move must not do at one note. Internal to core/regulation/planning.
#pragma once

#include "core/regulation/planning/amounts.hpp"

#include <optional>
#include <vector>

namespace batten::planning {

struct Harm {
  Adjuster by = Adjuster::capstan;
  Hold::Reason reason = Hold::Reason::could_block;
  Aim aim = Aim::let_off;     // what was too small at the worst
  bool by_ignorance = false;  // the aim was never read: reading it could settle it
};

// The first step along `order` after which, at the worst that has a chance of options.harm_chance,
// a margin is below its least and smaller than before the step. Nothing: none.
std::optional<Harm> find_harm(const NoteTask& task, const AdjusterVector& amounts,
                              const std::vector<Adjuster>& order, const PlanOptions& options);

// An order of the moves, as near to `order` as can be, along which no step does harm. Nothing:
// there is none, and find_harm says what stands in the way.
std::optional<std::vector<Adjuster>> safe_order(const NoteTask& task, const AdjusterVector& amounts,
                                                const std::vector<Adjuster>& order,
                                                const PlanOptions& options);

}  // namespace batten::planning

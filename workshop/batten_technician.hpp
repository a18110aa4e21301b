// A technician who does what Batten says, through the program's own functions: journal, fold, plan.
#pragma once

#include "core/regulation/planning/plan.hpp"
#include "workshop/technician.hpp"

#include <memory>

namespace batten::workshop {

struct BattenStyle {
  // Moves made before the plan is asked for again; the program itself re-plans after every entry.
  int moves_at_once = 32;
  // Squared tolerances to be gained for each minute of taking up a tool.
  double gain_per_minute = 0.3;
  PlanOptions options;
  // First looks by eye where it is quick; see take().
  bool eye_first = false;
  // Writes down every figure and every move (HandsLaw::writing).
  bool writes = true;
};

// Puts on record what the technician knows beforehand (sections, figures of the sheet, dampers,
// preparation), then reads and turns what the plan asks for until it asks for nothing. What cannot
// be read because a hammer does not let go he cures as the others do, and writes it down.
std::unique_ptr<Technician> batten_technician(const BattenStyle& style = {});

}  // namespace batten::workshop

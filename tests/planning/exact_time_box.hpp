// The time box solved exactly by a general solver, as the judge of the one in core. GLPK is GPL-3:
// for tests and benchmarks only, never in what users get.
#pragma once

#include "core/regulation/planning/time_box.hpp"

#include <vector>

namespace batten::exact {

struct Answer {
  bool solved = false;  // to within `gap` of the optimum, in time
  double cost = 0;      // of the best choice found
  double bound = 0;     // no choice costs less
  std::vector<std::size_t> bundle;
};

// gap: relative, at which the solver stops; seconds: its time limit.
Answer solve_time_box(const TimeBoxTask& task, double gap, double seconds);

// Every combination tried; for at most about a million.
double try_all(const TimeBoxTask& task);

// Whether a choice keeps to the task, worked out anew from the task alone; its cost if so.
bool is_permitted(const TimeBoxTask& task, const std::vector<std::size_t>& bundle, double* cost);

}  // namespace batten::exact

#include "core/action/slow.hpp"

#include "core/action/slow_lanes.hpp"

namespace batten::action::slow {

void run(Job* jobs, int count) {
  for (int k = 0; k < count; ++k) run_jobs(*jobs[k].model, jobs + k, 1);
}

}  // namespace batten::action::slow

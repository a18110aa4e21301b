#include "core/action/slow_lanes.hpp"

namespace batten::action::slow {

void run_base(Job* jobs, int count) {
  run_packed<mechanism::Lanes<mechanism::Isa::base>>(jobs, count);
}

}  // namespace batten::action::slow

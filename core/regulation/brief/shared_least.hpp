// One change for all naturals that need one. Internal to core/regulation/brief.
#pragma once

#include "core/regulation/brief/bench.hpp"

#include <span>

namespace batten::brief {

// A line that wanders from register to register is seen and felt. Where a single change serves
// every natural register that has departures, confirmed by the solver at each, and costs by the
// wants at most half as much again as each register's own best, it takes the place of each one's
// Way::least. `benches`: one per register.
void share_least(std::span<const Bench> benches, Brief& brief);

}  // namespace batten::brief

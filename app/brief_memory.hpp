// Registers, briefs and maps kept between questions, so that each costs its second once: until the
// profile, the targets, the wishes or what is read about that register changes.
#pragma once

#include "app/plan_memory.hpp"
#include "core/regulation/brief/brief.hpp"
#include "core/regulation/brief/map.hpp"

namespace batten {

// A register is about 20 kB, a map 100 kB. Safe from every thread.
struct BriefMemory {
  // `plans` is asked for what stands on record; it must outlive this.
  explicit BriefMemory(PlanMemory& asked) : plans(&asked) {}

  PlanMemory* plans;
  Lately<RegisterBrief> registers{32};
  Lately<Brief> wholes{8};
  Lately<BriefMap> maps{16};
};

}  // namespace batten

// How repetitive a day's work is for the hands, and where to pause: a planning aid, no medical
// advice.
//
// Index: ISO 11228-3:2007, table 2 (OCRA): technical actions made over those of reference,
//   ATA / (30 per minute × force × posture × repetitiveness × additional × minutes × recovery ×
//   duration).
// Posture, repetitiveness and additional factors are taken as 1. The multipliers of force, recovery
// and duration, the limits of the classes and the pattern of 50 minutes' work and 10 minutes' pause
// are from memory.
#pragma once

#include "core/outcome/outcome.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace batten {

// One pass along the keyboard, as the hand has it.
struct PassLoad {
  double moves = 0;         // ≥ 0
  double minutes = 0;       // ≥ 0, setting up and reading included
  int strain = 0;           // 0 none … 3 heavy on the hand, as Labour::strain
  std::uint32_t after = 0;  // bit i: pass i comes before this one
};

enum class HandClass : std::uint8_t {
  acceptable,  // index up to 2.2
  borderline,  // up to 3.5
  high,
};

struct RestOptions {
  double actions_per_move = 3;  // take hold, turn, let go; estimate
  double stretch = 50;          // minutes of work, then
  double pause = 10;            // minutes
};

struct Pause {
  double after = 0;      // minutes of work done before it
  std::size_t pass = 0;  // the pass it falls into or follows
  double minutes = 0;
};

struct RestPlan {
  double index = 0;  // ATA / RTA with the pauses taken
  double index_without_pauses = 0;
  HandClass hand_class = HandClass::acceptable;  // with them
  std::vector<std::size_t> order;                // of the passes
  std::vector<Pause> pauses;
  double minutes = 0;       // work and pauses
  bool alternates = false;  // no two passes of strain 2 or 3 follow each other
};

// ATA / RTA of one task with every multiplier given. actions_per_minute ≥ 0, multipliers > 0.
// 12 a minute for four hours, all multipliers one: 0.40.
double ocra_index(double actions_per_minute, double multipliers);

HandClass hand_class_of(double index);

// Order: passes given in the order that undoes least are moved only to part two straining ones, and
// never before one they come after: of the permitted orders the one with the least sum of strain ×
// strain of the next, then the one nearest the order given (first difference latest). Exact up to
// 14 passes; beyond, each next pass is the lightest after a heavy one. A pass of no moves and no
// minutes is left out. Pauses come after each stretch, at the end of a pass
// where one ends within 10 minutes before; none after the last work. Errors: numbers negative or
// not finite, strain outside 0…3, more than 32 passes, passes that wait for each other in a ring,
// more than 24 h.
Result<RestPlan> plan_rest(const std::vector<PassLoad>& passes, const RestOptions& options = {});

// Two or three sentences, index, class and pauses, that end by saying what this is not.
std::string print_rest(const RestPlan& plan);

}  // namespace batten

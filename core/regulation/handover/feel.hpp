// What the work changes under the fingers, and the pictures of it. Internal to
// core/regulation/handover.
#pragma once

#include "core/regulation/handover/telling.hpp"

namespace batten::handover {

// Ranks of the figures played, the figures read, the strip and its legend.
struct FeelRanks {
  int touch = 0, readings = 0, strip = 0, legend = 0;
};
void add_feel(const HandoverFacts& facts, const Said& said, FeelRanks ranks, ComposedPage& page);

// "how far the hammers travel"
std::string meaning_of(const Said& said, Reading reading);
// Of the first note that has the reading; NaN where none has.
double tolerance_of(const HandoverFacts& facts, Reading reading);

}  // namespace batten::handover

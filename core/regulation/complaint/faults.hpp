// Single faults of one note, in the sizes they are found in. Internal to core/regulation/complaint
// and its trials.
#pragma once

#include "core/action/readings.hpp"
#include "core/regulation/complaint/complaint.hpp"

namespace batten::complaint {

// Sizes are positive and log-uniform between these: as many small ones as large. What is found
// after years: estimate, no source. Unit: m at the part for adjusters, share for the spring, kg of
// lead, otherwise how many times the friction (of the loose centre: how many times less of it).
struct Sizes {
  double low = 0, high = 0;
};
// Of listed causes only.
Sizes sizes_of(Cause cause);
// The size with the share `u` (0…1) of all sizes below it.
double size_at(Cause cause, double u);

// Whether the note has what the cause is about; no damper, no early damper.
bool can_have(const action::Note& note, Cause cause);
// The note with the fault; what would leave the dimension's range stops at its end.
action::Note with_fault(const action::Note& note, Cause cause, double size);

}  // namespace batten::complaint

// A diagnosis in words. Internal to core/regulation/complaint.
#pragma once

#include "core/regulation/complaint/complaint.hpp"

#include <string>

namespace batten::complaint {

// "0.45 mm", "2", "48 gf", "not readable: the hammer does not let go"
std::string print_look(Look look, std::optional<double> value);

// `expected` is what a cause makes each look read, NaN not readable; `explained` the complaints it
// makes likely.
CauseReason reason_of(const ComplaintTable& table, std::span<const double> expected,
                      std::span<const Complaint> explained, std::span<const Complaint> felt,
                      std::span<const Sighting> seen);
// The same in words.
std::string explain_cause(const CauseReason& because);

std::string explain_mend(const Mend& mend);
std::string summarise(const Diagnosis& diagnosis);

}  // namespace batten::complaint

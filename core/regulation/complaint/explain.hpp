// A diagnosis in words. Internal to core/regulation/complaint.
#pragma once

#include "core/regulation/complaint/complaint.hpp"

#include <string>

namespace batten::complaint {

// "0.45 mm", "2", "48 gf", "not readable: the hammer does not let go"
std::string print_look(Look look, std::optional<double> value);

// What a cause explains of what was felt, and how what was read sits with it. `expected` is what it
// makes each look read, NaN not readable; `explained` the complaints it makes likely.
std::string explain_cause(const ComplaintTable& table, std::span<const double> expected,
                          std::span<const Complaint> explained, std::span<const Complaint> felt,
                          std::span<const Sighting> seen);

std::string explain_mend(const Mend& mend);
std::string summarise(const Diagnosis& diagnosis);

}  // namespace batten::complaint

// When to come back and what to look at first, as JSON.
#pragma once

#include "app/drift_job.hpp"

#include <cstdint>
#include <string>

namespace batten {

// Shares and chances 0…1; `day` counts from `from`; values in the reading's unit. `revision`:
// entries of the piano's journal.
std::string to_json(const Piano& piano, const Outlook& outlook, std::int64_t revision);
std::string to_json(const FirstChecks& checks, std::int64_t revision);

}  // namespace batten

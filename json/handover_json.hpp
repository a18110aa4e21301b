// What was found, done and left, as JSON.
#pragma once

#include "app/handover_job.hpp"

#include <cstdint>
#include <string>

namespace batten {

// `revision`: entries of the piano's journal. Values in the reading's unit; rms of nothing is null.
std::string to_json(const Piano& piano, const PianoHandover& handover, std::int64_t revision);

}  // namespace batten

// What was found, done and left, as JSON.
#pragma once

#include "app/handover_job.hpp"
#include "core/regulation/handover/page.hpp"

#include <cstdint>
#include <string>

namespace batten {

// `revision`: entries of the piano's journal. Values in the reading's unit; rms of nothing is null.
// The pages as they were composed.
std::string to_json(const Piano& piano, const PianoHandover& handover, std::int64_t revision,
                    const ComposedPage& owner, const ComposedPage& file);

}  // namespace batten

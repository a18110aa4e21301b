// The studio's list and a day's plan as JSON.
#pragma once

#include "app/studio_job.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten {

// Days are the user's ("2026-11-26"), shares 0…1.
std::string to_json(const StudioList& list, const std::optional<StudioDay>& day);

// All pianos; "due" and "last_done" as kept, null where none is kept.
std::string to_json(const std::vector<PianoSummary>& pianos, const StudioList& kept);

}  // namespace batten

// A brief as JSON.
#pragma once

#include "app/brief_job.hpp"

#include <string>

namespace batten {

std::string to_json(const Piano& piano, const PianoBrief& brief);
// What is asked of the piano, section by section, its wishes and registers, and what was accepted.
std::string to_json(const Piano& piano, const BriefOutline& outline);
// Columns over blow (fastest) and dip, as they lie in BriefMap.
std::string to_json(const Piano& piano, const PianoMap& map);

}  // namespace batten

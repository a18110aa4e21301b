// The line as JSON.
#pragma once

#include "core/journal/entry.hpp"
#include "core/regulation/line/line.hpp"

#include <string>

namespace batten {

// Lengths are millimetres, and null where nothing is known; one object a note of the compass.
std::string to_json(const Piano& piano, const Line& line);

}  // namespace batten

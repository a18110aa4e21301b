// Two technicians without Batten, to hold it against: as good as we could make them.
#pragma once

#include "workshop/technician.hpp"

#include <memory>

namespace batten::workshop {

// Common-practice order, the trade's millimetres for a turn, the maker's figures; gauges every
// note, turns and reads again until it is right, and goes round until a round finds nearly nothing
// more to do. Where the aftertouch cannot be had at the figures, the section's dip gives way.
std::unique_ptr<Technician> by_the_book();

// Gauges samples at the sections' ends, the Bs and the Es; chooses each section's dip there, so
// that the aftertouch is right; learns this piano's turn from the first screws; fills in between by
// eye and by halves; goes by an order in which nothing set is undone; at the end checks every third
// note with the gauge and goes back only where that fails.
std::unique_ptr<Technician> skilled();

}  // namespace batten::workshop

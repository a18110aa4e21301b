// Gauges for a machine that cuts: DXF, the text form of AutoCAD's release 12 (AC1009), which every
// program in this field reads. docs/formats/dxf.md says what is in the file.
#pragma once

#include "core/regulation/gauges/pieces.hpp"

#include <span>
#include <string>

namespace batten {

// Millimetres, x to the right, y up. Release 12 has no place for the unit: a bar of 100 mm on layer
// CHECK tells it. CUT: closed polylines and circles; ENGRAVE: letters as open polylines. ASCII,
// lines end in CR LF; the same bytes for the same pieces.
std::string write_gauges_dxf(std::span<const GaugePiece> pieces);

}  // namespace batten

// Gauges at their true size as SVG, for a laser cutter or a plotter.
#pragma once

#include "core/regulation/gauges/pieces.hpp"

#include <span>
#include <string>

namespace batten {

// Millimetres: width and height of the drawing say "mm", and one unit of its coordinates is one.
// Groups "cut", "engrave" and "check" hold what the machine is to do; every piece is a group of its
// own with a title. Letters are single strokes, no font is needed; nothing is filled and there is
// no background, as a machine would cut that too.
std::string gauges_svg(std::span<const GaugePiece> pieces, const GaugeStyle& style);

}  // namespace batten

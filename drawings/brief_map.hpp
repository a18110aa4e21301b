// Registers over blow and dip, as SVG.
#pragma once

#include "core/regulation/brief/map.hpp"

#include <span>
#include <string>

namespace batten {

// A panel each: where the hammer lets go inside the dip and how much aftertouch is left (lines
// every 0.4 mm), where key bottom and string meet at a middling stroke, the sheet's figures and
// today's.
std::string draw_brief_map(std::span<const BriefMap> maps, const std::string& title, bool inches);

}  // namespace batten

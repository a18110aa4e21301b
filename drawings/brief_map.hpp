// Registers over blow and dip, as SVG.
#pragma once

#include "core/regulation/brief/map.hpp"

#include <span>
#include <string>

namespace batten {

// A panel each: where the hammer lets go inside the dip and how much aftertouch is left (lines
// every 0.4 mm, the band's edges bold), where key bottom and string meet at a middling stroke, what
// a loud stroke gains or loses, the sheet's figures and today's. Regions have their names in them
// and what lets nothing go is hatched, so that nothing hangs on colour.
std::string draw_brief_map(std::span<const BriefMap> maps, const std::string& title, bool inches);

}  // namespace batten

// What can be relied on of the aftertouch. Internal to core/regulation/line.
#pragma once

#include "core/journal/fold.hpp"
#include "core/keyboard/compass.hpp"
#include "core/regulation/line/line.hpp"

#include <vector>

namespace batten::line {

// Bounds of the ratio of hammer travel to key travel reckoned with: the least loses most aftertouch
// for a longer blow, the most gains least for a shorter one (Δaftertouch = Δblow / R). Trade texts
// give 4.7 to 6.8.
inline constexpr double least_action_ratio = 4.5;
inline constexpr double most_action_ratio = 6.8;
// Aftertouch that must be left, because the jack keeps touching for about half a millimetre of key
// travel (trade texts).
inline constexpr Length least_aftertouch = 0.5 * millimetre;

// Aftertouch every key can be relied on to have now, one per key of the compass; 0 where nothing is
// known, so that nothing is taken away from it.
//
// From the newest reading at the key, whatever the visit, else the least of the newest readings in
// its section and of the usual figures (a generous neighbour does not vouch for a note nobody has
// tried), less what the moves on record since then may have taken: capstans by their turns, front
// punchings one for one. After a move whose effect on it is not known (let-off, balance punchings,
// jack, lever height) it counts as 0 until read again. Without any reading in the section: 0.
std::vector<Length> reliable_aftertouch(Compass compass, const LineSettings& settings,
                                        const Standing& standing);

}  // namespace batten::line

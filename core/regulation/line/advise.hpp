// What to do at one note. Internal to core/regulation/line.
#pragma once

#include "core/regulation/line/gather.hpp"
#include "core/regulation/line/line.hpp"

namespace batten::line {

// The least ratio of hammer travel to key travel reckoned with when lowering a hammer: of all
// actions the one that loses most aftertouch for a longer blow (Δaftertouch = Δblow / R). Trade
// texts give 4.7 to 6.8; lower is the careful side.
inline constexpr double least_action_ratio = 4.5;
// Aftertouch that must be left, because the jack keeps touching for about half a millimetre of key
// travel (trade texts).
inline constexpr Length least_aftertouch = 0.5 * millimetre;
// Farther than this from the target a hammer is taken for a slip of the gauge, not for a hammer.
inline constexpr Length farthest_deviation = 6 * millimetre;
// A target less sure than this (one standard deviation) is not set by: the tolerance against
// neighbours.
inline constexpr Length unsure_target = 0.25 * millimetre;

// Fills verdict, turns and crown_travel of a note whose heights and deviations are there.
// `aftertouch` is what is known of it: read here, or the least of the section and the usual
// figures.
void advise(NoteLine& note, const LineSettings& settings, const Readings& readings,
            Length aftertouch);

// Chance that the deviation has the sign it seems to have.
double direction_sureness(Length deviation, Length sd);

}  // namespace batten::line

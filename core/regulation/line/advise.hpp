// What to do at one note. Internal to core/regulation/line.
#pragma once

#include "core/regulation/line/gather.hpp"
#include "core/regulation/line/line.hpp"

namespace batten::line {

// Farther than this from the target a hammer is taken for a slip of the gauge, not for a hammer.
inline constexpr Length farthest_deviation = 6 * millimetre;
// A target less sure than this (one standard deviation) is not set by: the tolerance against
// neighbours.
inline constexpr Length unsure_target = 0.25 * millimetre;

// A section with string readings at fewer keys than this has nothing to contradict a slip.
inline constexpr int fewest_string_keys = 3;

// What a note's deviation rests on, as far as advice must know it.
struct Grounds {
  bool by_block = false;        // a block held against the string; no curve, no datum comes in
  bool contradicted = false;    // its own readings disagree
  bool bench_unsure = false;    // the tie of the bench is less sure than a target must be
  bool strings_unsure = false;  // the string here is doubtful, or the section has too few readings
  Length aftertouch;            // that can be relied on
};

// Fills verdict, turns and crown_travel of a note whose heights and deviations are there.
void advise(NoteLine& note, const LineSettings& settings, const Readings& readings,
            const Grounds& grounds);

// Chance that the deviation has the sign it seems to have.
double direction_sureness(Length deviation, Length sd);

}  // namespace batten::line

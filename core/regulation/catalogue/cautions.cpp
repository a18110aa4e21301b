#include "core/regulation/catalogue/cautions.hpp"

#include <array>
#include <cassert>
#include <cstddef>

namespace batten {
namespace {

using enum Caution;

constexpr std::array texts{
    CautionText{
        blocked_hammer, "blocked-hammer", "A blocked hammer breaks",
        "A hammer that cannot let go jams against the string, and the next firm blow breaks "
        "its shank. Look for let-off too close, a drop screw too high, a jack too far "
        "toward the hammer, or new hammers, strings or frame height. Press every note you "
        "touched slowly first, and only then firmly."},
    CautionText{
        lost_escapement, "lost-escapement", "Let-off can be lost",
        "A longer blow uses up the aftertouch: when the key meets its bottom first, the jack "
        "no longer trips. Lower in small steps and see that each note still lets off."},
    CautionText{
        sliding_the_action, "sliding-the-action", "Sliding the action",
        "Take off key slip, cheek blocks and fallboard; let all keys up, press no pedal, "
        "play no key, and draw the action straight out onto a clear flat bench. Lift a "
        "large action with two people. Going back, see that every key tail passes under its "
        "damper lever."},
    CautionText{string_tension, "string-tension", "Strings carry tonnes",
                "Strings and plate hold many tonnes, and no adjustment here touches them. Leave "
                "plate bolts, cracks and loose tuning pins to a qualified rebuilder."},
    CautionText{lid_case_and_mains, "lid-case-and-mains", "Lid, case and mains",
                "Secure the lid and its prop, and cover the finish where tools lie. Unplug every "
                "electric device in the piano first and follow its own safety notes and the local "
                "electrical rules."},
    CautionText{strained_hands, "strained-hands", "Spare your hands",
                "Hundreds of small twists and a bent back add up: change tasks, pause, and stop at "
                "pain. Counts and times shown are planning aids, not medical advice."},
    CautionText{makers_instructions, "makers-instructions", "The maker comes first",
                "The maker's instructions and a qualified technician's judgement come before any "
                "figure shown here."},
};

static_assert(texts.size() == static_cast<std::size_t>(makers_instructions) + 1,
              "one row for every caution");

}  // namespace

std::span<const CautionText> caution_texts() { return texts; }

const CautionText& text_of(Caution caution) {
  const auto index = static_cast<std::size_t>(caution);
  assert(index < texts.size());
  return texts[index];
}

}  // namespace batten

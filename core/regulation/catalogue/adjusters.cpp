#include "core/regulation/catalogue/adjusters.hpp"

#include "core/regulation/catalogue/code.hpp"

#include <array>
#include <cassert>
#include <cstddef>

namespace batten {
namespace {

using enum Adjuster;

// Hand steps are common practice, no source; the effects are those trade texts agree on.
constexpr std::array kinds{
    AdjusterKind{
        capstan, "capstan", "capstan", MoveUnit::turns, "raise", "lower", 1.0 / 64,
        "Raising lifts the wippen: the hammer rests higher, the blow is shorter, and there "
        "is more aftertouch; let-off stays where it is."},
    AdjusterKind{balance_punchings, "balance-punchings", "balance-rail punchings",
                 MoveUnit::millimetres, "add", "take out", 0.05,
                 "Adding lifts the key at its balance pin: the front stands higher, dip and "
                 "aftertouch grow, and the hammer's rest moves with the key."},
    AdjusterKind{front_punchings, "front-punchings", "front-rail punchings", MoveUnit::millimetres,
                 "add", "take out", 0.05,
                 "Adding lifts the key's bottom: dip and aftertouch shrink by the same amount, and "
                 "the hammer is caught farther from the string."},
    AdjusterKind{jack_button, "jack-button", "jack button", MoveUnit::turns,
                 "bring the jack toward the player", "send the jack toward the hammer", 1.0 / 16,
                 "Bringing the jack toward the player eases let-off; too far, it slips off the "
                 "knuckle in loud playing."},
    AdjusterKind{lever_height_button, "lever-height-button", "repetition-lever height button",
                 MoveUnit::turns, "raise the lever", "lower the lever", 1.0 / 16,
                 "Raising the lever gives the jack more clearance under the knuckle; it may lift "
                 "the resting hammer as well."},
    AdjusterKind{repetition_spring, "repetition-spring", "repetition spring", MoveUnit::bend_steps,
                 "strengthen", "weaken", 1,
                 "Strengthening makes the hammer rise more firmly out of check and adds to the up "
                 "weight."},
    AdjusterKind{let_off_button, "let-off-button", "let-off button", MoveUnit::turns,
                 "earlier let-off", "later let-off", 1.0 / 16,
                 "Earlier let-off leaves the hammer farther from the string when the jack trips, "
                 "and leaves more aftertouch."},
    AdjusterKind{drop_screw, "drop-screw", "drop screw", MoveUnit::turns, "more drop", "less drop",
                 1.0 / 16,
                 "More drop stops the repetition lever earlier, so that the hammer falls farther "
                 "after let-off; let-off itself stays."},
    AdjusterKind{back_check, "back-check", "back check", MoveUnit::millimetres,
                 "bend toward the hammer", "bend away from the hammer", 0.5,
                 "Bending toward the hammer catches it nearer the string; too near, it brushes the "
                 "hammer tail on the way up."},
    AdjusterKind{damper_wire, "damper-wire", "damper wire", MoveUnit::millimetres, "later lift",
                 "earlier lift", 0.5,
                 "A later lift lets the hammer travel farther before the key begins to carry the "
                 "damper."},
    AdjusterKind{
        string_level, "string-level", "string of a unison", MoveUnit::millimetres, "raise", "lower",
        0.05,
        "Raising the low string of a unison at its bearing brings it level with the others, "
        "so that the hammer meets all of them at once."},
};

static_assert(kinds.size() == static_cast<std::size_t>(string_level) + 1,
              "one row for every adjuster");

}  // namespace

std::span<const AdjusterKind> adjuster_kinds() { return kinds; }

const AdjusterKind& kind_of(Adjuster adjuster) {
  const auto index = static_cast<std::size_t>(adjuster);
  assert(index < kinds.size());
  return kinds[index];
}

std::optional<Adjuster> adjuster_by_code(std::string_view code) {
  for (const AdjusterKind& kind : kinds) {
    if (is_code(code, kind.code)) return kind.id;
  }
  return std::nullopt;
}

}  // namespace batten

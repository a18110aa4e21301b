#include "core/regulation/catalogue/adjusters.hpp"

#include "core/regulation/catalogue/code.hpp"

#include <array>
#include <cassert>
#include <cstddef>

namespace batten {
namespace {

using enum Adjuster;
using enum Caution;
using enum Scope;

constexpr MoveUnit turns = MoveUnit::turns;
constexpr MoveUnit mm = MoveUnit::millimetres;
constexpr MoveUnit bends = MoveUnit::bend_steps;

// The hammer may come too near, or the key meet its bottom first.
constexpr std::array both_ways{blocked_hammer, lost_escapement};
constexpr std::array may_block{blocked_hammer};
constexpr std::array may_not_let_off{lost_escapement};
constexpr std::array at_the_strings{string_tension};
constexpr std::array action_out{sliding_the_action};
constexpr std::array by_the_maker{makers_instructions};

// Columns: adjuster, code, name, scope, what it sets, unit, + and −, smallest step, limit either
// way, minutes a move and to set up, strain, tools, effect, cautions.
//
// Steps, limits, minutes and strain: first guesses, common practice, no source. The effects are
// those trade texts agree on.
constexpr std::array kinds{
    AdjusterKind{
        capstan, "capstan", "capstan", per_note, Reading::blow, turns, "raise", "lower", 1.0 / 64,
        1.5, 0.35, 5, 2, "capstan wrench; gauge or rack for the blow",
        "Raising lifts the wippen: the hammer rests higher, the blow is shorter, and there "
        "is more aftertouch; let-off stays where it is.",
        both_ways},
    AdjusterKind{balance_punchings, "balance-punchings", "balance-rail punchings", per_note,
                 Reading::key_height, mm, "add", "take out", 0.05, 2, 0.8, 10, 1,
                 "papers and cards, tweezers, key-height gauge",
                 "Adding lifts the key at its balance pin: the front stands higher, dip and "
                 "aftertouch grow, and the hammer's rest moves with the key.",
                 action_out},
    AdjusterKind{front_punchings, "front-punchings", "front-rail punchings", per_note, Reading::dip,
                 mm, "add", "take out", 0.05, 2.5, 0.5, 4, 1,
                 "papers and cards, tweezers, dip block",
                 "Adding lifts the key's bottom: dip and aftertouch shrink by the same amount, and "
                 "the hammer is caught farther from the string.",
                 may_not_let_off},
    AdjusterKind{jack_button, "jack-button", "jack button", per_note, Reading::jack_position, turns,
                 "bring the jack toward the player", "send the jack toward the hammer", 1.0 / 16, 2,
                 0.4, 8, 1, "button screwdriver",
                 "Bringing the jack toward the player eases let-off; too far, it slips off the "
                 "knuckle in loud playing.",
                 may_block},
    AdjusterKind{lever_height_button, "lever-height-button", "repetition-lever height button",
                 per_note, Reading::jack_clearance, turns, "raise the lever", "lower the lever",
                 1.0 / 32, 2, 0.4, 4, 1, "button wrench or screwdriver",
                 "Raising the lever gives the jack more clearance under the knuckle; it may lift "
                 "the resting hammer as well.",
                 may_block},
    AdjusterKind{repetition_spring,
                 "repetition-spring",
                 "repetition spring",
                 per_note,
                 Reading::spring_rise,
                 bends,
                 "strengthen",
                 "weaken",
                 1,
                 4,
                 0.6,
                 5,
                 1,
                 "spring hook, or the screw's driver",
                 "Strengthening makes the hammer rise more firmly out of check and adds to the up "
                 "weight.",
                 {}},
    AdjusterKind{let_off_button, "let-off-button", "let-off button", per_note, Reading::let_off,
                 turns, "earlier let-off", "later let-off", 1.0 / 32, 3, 0.4, 5, 2,
                 "let-off wrench or pin, gauge for the let-off",
                 "Earlier let-off leaves the hammer farther from the string when the jack trips, "
                 "and leaves more aftertouch.",
                 both_ways},
    AdjusterKind{drop_screw, "drop-screw", "drop screw", per_note, Reading::drop, turns,
                 "more drop", "less drop", 1.0 / 32, 2, 0.35, 5, 1, "screwdriver",
                 "More drop stops the repetition lever earlier, so that the hammer falls farther "
                 "after let-off; let-off itself stays.",
                 may_block},
    AdjusterKind{back_check,
                 "back-check",
                 "back check",
                 per_note,
                 Reading::check_distance,
                 mm,
                 "bend toward the hammer",
                 "bend away from the hammer",
                 0.1,
                 5,
                 0.3,
                 3,
                 3,
                 "check bender",
                 "Bending toward the hammer catches it nearer the string; too near, it brushes the "
                 "hammer tail on the way up.",
                 {}},
    AdjusterKind{damper_wire, "damper-wire", "damper wire", per_note, Reading::damper_start, mm,
                 "later lift", "earlier lift", 0.2, 5, 1, 15, 2,
                 "damper-wire screwdriver or bender",
                 "A later lift lets the hammer travel farther before the key begins to carry the "
                 "damper.",
                 action_out},
    AdjusterKind{
        string_level, "string-level", "string of a unison", per_note, Reading::unison_level, mm,
        "raise", "lower", 0.05, 0.5, 1.5, 5, 2, "string hook, string level",
        "Raising the low string of a unison at its bearing brings it level with the others, "
        "so that the hammer meets all of them at once.",
        at_the_strings},
    AdjusterKind{sostenuto_tab, "sostenuto-tab", "sostenuto tab", per_note,
                 Reading::sostenuto_tab_line, mm, "raise", "lower", 0.3, 3, 1, 15, 2,
                 "long pliers, a light along the tabs",
                 "Raising a tab takes it farther above the blade's lip; a tab too low is caught "
                 "when its damper rests.",
                 action_out},
    AdjusterKind{damper_pedal_rod, "damper-pedal-rod", "damper pedal rod", per_piano,
                 Reading::pedal_free_play, mm, "longer", "shorter", 0.5, 20, 4, 5, 2,
                 "spanners for rod and lock nut, rule",
                 "A longer rod takes up free play, so that the dampers rise earlier under the "
                 "foot; too long, it holds them off the strings.",
                 by_the_maker},
    AdjusterKind{damper_tray_stop, "damper-tray-stop", "damper tray stop", per_piano,
                 Reading::damper_tray_lift, mm, "more lift", "less lift", 0.5, 15, 5, 5, 2,
                 "screwdriver, card or felt for the stop",
                 "More lift lets the pedal raise the dampers higher; too high, they meet the "
                 "up-stop rail and strain their wires.",
                 by_the_maker},
    AdjusterKind{damper_up_stop, "damper-up-stop", "damper up-stop rail", per_piano,
                 Reading::damper_up_stop_gap, mm, "raise", "lower", 0.5, 10, 10, 15, 2,
                 "screwdriver, gauge strips",
                 "Raising the rail leaves the dampers more room over a pressed key; too low, the "
                 "rail stops the key before its own bottom does.",
                 by_the_maker},
    AdjusterKind{sostenuto_blade, "sostenuto-blade", "sostenuto blade", per_piano,
                 Reading::sostenuto_blade_height, mm, "raise", "lower", 0.3, 10, 10, 15, 2,
                 "screwdriver, gauge strips",
                 "Raising the blade brings its lip nearer the tabs; too near, it catches dampers "
                 "at rest.",
                 by_the_maker},
    AdjusterKind{shift_stop, "shift-stop", "shift stop", per_piano, Reading::shift_distance, mm,
                 "more shift", "less shift", 0.3, 5, 3, 3, 1, "screwdriver or spanner",
                 "More shift carries the hammers farther past their outer string; too far, they "
                 "touch the next unison.",
                 by_the_maker},
};

static_assert(kinds.size() == static_cast<std::size_t>(shift_stop) + 1,
              "one row for every adjuster");

constexpr bool is_sound(const AdjusterKind& kind) {
  return kind.hand_step > 0 && kind.limit >= 4 * kind.hand_step && kind.minutes_move > 0 &&
         kind.minutes_set_up >= 0 && kind.strain >= 0 && kind.strain <= 3 &&
         kind.scope != per_visit && !kind.tools.empty();
}
constexpr bool all_sound() {
  for (const AdjusterKind& kind : kinds)
    if (!is_sound(kind)) return false;
  return true;
}
static_assert(all_sound(), "a step above 0, a limit of some steps, minutes, a strain from 0 to 3");

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

bool shows(Reading reading, Adjuster adjuster) {
  if (kind_of(adjuster).sets == reading) return true;
  switch (reading) {
    case Reading::hammer_height:
      return adjuster == capstan;
    case Reading::sharps_height:
      return adjuster == balance_punchings;
    case Reading::sharp_dip:
    case Reading::aftertouch:
      return adjuster == front_punchings;
    case Reading::jack_wink:
      return adjuster == lever_height_button;
    case Reading::left_string_gap:
    case Reading::middle_string_gap:
    case Reading::right_string_gap:
      return adjuster == string_level;
    default:
      return false;
  }
}

std::string_view unit_name(MoveUnit unit) {
  switch (unit) {
    case MoveUnit::turns:
      return "turns";
    case MoveUnit::millimetres:
      return "mm";
    case MoveUnit::bend_steps:
      return "steps";
  }
  assert(false);
  return "";
}

}  // namespace batten

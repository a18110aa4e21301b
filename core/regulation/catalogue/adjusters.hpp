// What can be turned, bent or shimmed on an action and its pedals.
//
// Values only. Steps, limits, minutes and strain are first guesses (common practice, no source): a
// piano's own stand in its settings, see working.hpp.
#pragma once

#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

namespace batten {

enum class Adjuster : std::uint8_t {
  capstan,
  balance_punchings,
  front_punchings,
  jack_button,
  lever_height_button,
  repetition_spring,
  let_off_button,
  drop_screw,
  back_check,
  damper_wire,
  string_level,  // a string of a unison brought level with the others
  sostenuto_tab,
  // Pedals: once for the instrument.
  damper_pedal_rod,
  damper_tray_stop,
  damper_up_stop,
  sostenuto_blade,
  shift_stop,
};

enum class MoveUnit : std::uint8_t { turns, millimetres, bend_steps };

struct AdjusterKind {
  Adjuster id;
  std::string_view code;  // "let-off-button"
  std::string_view name;  // "let-off button"
  Scope scope;            // a note's or the piano's; never the room's
  Reading sets;           // what it is turned for
  MoveUnit unit;
  std::string_view positive;  // the verb for a positive move: "raise", "earlier let-off", …
  std::string_view negative;  // "lower", …
  double hand_step;           // the smallest move a hand can make, in `unit`
  // All moves of one visit together, either way, in `unit`: beyond it something else is wrong.
  double limit;
  double minutes_move;    // one move, tool in hand
  double minutes_set_up;  // tools, drawing the action out or in: once a pass
  int strain;             // on the hand: 0 none, 1 light, 2 a firm grip, 3 heavy
  std::string_view tools;
  std::string_view effect;            // what + does, for the reader; no figure is drawn from it
  std::span<const Caution> cautions;  // shown before the first move of a pass
};

std::span<const AdjusterKind> adjuster_kinds();
const AdjusterKind& kind_of(Adjuster adjuster);
// By code; blanks, '_' and letter case forgiven. Nothing if unknown.
std::optional<Adjuster> adjuster_by_code(std::string_view code);
// Whether the reading tells how what the adjuster is turned for now stands: its own, that of the
// sharps, and others that show the same (the hammer's height the blow, the wink the clearance, the
// aftertouch the dip, a string's gap the level of its unison).
bool shows(Reading reading, Adjuster adjuster);
// "turns", "mm", "steps"
std::string_view unit_name(MoveUnit unit);

}  // namespace batten

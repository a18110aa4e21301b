// What can be turned, bent or shimmed on an action.
#pragma once

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
};

enum class MoveUnit : std::uint8_t { turns, millimetres, bend_steps };

struct AdjusterKind {
  Adjuster id;
  std::string_view code;      // "let-off-button"
  std::string_view name;      // "let-off button"
  MoveUnit unit;
  std::string_view positive;  // the verb for a positive move: "raise", "earlier let-off", …
  std::string_view negative;  // "lower", …
  double hand_step;           // the smallest move a hand can make, in `unit`
  std::string_view effect;    // one sentence: what + does, for the reader; no figure is drawn from it
};

std::span<const AdjusterKind> adjuster_kinds();
const AdjusterKind& kind_of(Adjuster adjuster);
// By code; blanks, '_' and letter case forgiven. Nothing if unknown.
std::optional<Adjuster> adjuster_by_code(std::string_view code);

}  // namespace batten

// One note as a mechanism: which body, contact, stop and probe is which.
#pragma once

#include "core/action/layout.hpp"

namespace batten::action {

// Bodies, in the order of the coordinates. The finger and the damper slide up and down; `lift` is
// the key leaving its balance rail; the rest turn.
enum Part : int { finger, lift, key_rear, key_front, wippen, jack, lever, shank, head, damper };
inline constexpr int part_count = 10;

enum Touching : int {
  finger_key,
  capstan_heel,
  jack_knuckle,
  lever_knuckle,
  toe_button,
  tip_drop,
  tail_check,
  crown_string,
  front_rail,
  back_rail,
  shank_cushion,
  key_damper,
};
inline constexpr int touching_count = 12;

enum Stopping : int { lever_stop, jack_stop, rail_stop, damper_stop };

enum Watching : int { key_point, crown_point, knuckle_point };

// How the finger's flesh and the string take part.
enum class Purpose {
  slow,    // a stiff finger, a stiff string: what a gauge finds
  stroke,  // a soft fingertip; the string is calculated beside (core/strings)
};

// Lead that gives a static balance is found by `balance_lead` (readings.hpp).
Result<mechanism::Description> assemble(const Dimensions& dimensions,
                                        const Adjustments& adjustments, Purpose purpose);

// Bit of a contact for EvaluateOptions::contacts_off.
constexpr unsigned long long bit(Touching contact) { return 1ULL << static_cast<int>(contact); }

}  // namespace batten::action

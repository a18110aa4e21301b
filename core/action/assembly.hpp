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

// The finger is stiff, as a gauge or a weight is, and the string a stiff plane; a stroke puts its
// own fingertip and calculates the string beside. Error: as lay_out, or a mechanism that cannot be.
Result<mechanism::Description> assemble(const Dimensions& dimensions,
                                        const Adjustments& adjustments);

// Bit of a contact for EvaluateOptions::contacts_off.
constexpr unsigned long long bit(Touching contact) { return 1ULL << static_cast<int>(contact); }

}  // namespace batten::action

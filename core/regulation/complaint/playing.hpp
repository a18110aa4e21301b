// One note read and played as a technician and a pianist would, and what they would feel beside its
// neighbours. Internal to core/regulation/complaint and its trials.
#pragma once

#include "core/action/strokes.hpp"
#include "core/regulation/complaint/complaint.hpp"

#include <array>
#include <span>
#include <vector>

namespace batten::complaint {

using LookValues = std::array<double, look_count>;     // look's unit; NaN: cannot be read
using Feelings = std::array<double, complaint_count>;  // chance 0…1 that it is felt

// One hand for all notes: chosen on a sound one so that its softest touch still sounds there.
struct Hand {
  double soft = 0;  // N, gives at least 0.9 m/s on the sound note
};

// What came of it. m/s; 0: the hammer does not reach the string.
struct Played {
  action::Dimensions dimensions;
  action::Readings readings;
  double soft = 0, middling = 0, loud = 0;
  bool twice = false;  // struck twice by itself
  double closest = 0;  // m, crown to string at the closest of a slow press; let-off if it lets go
};

// Error: as action::calc_strokes; the softest touch cannot be found.
Result<Hand> choose_hand(const action::Note& sound);
// Side by side. Error: as action::calc_readings.
std::vector<Result<Played>> play(std::span<const action::Note> notes, const Hand& hand);

// What a faultless gauge would read.
LookValues calc_looks(const Played& note, const Played& sound);

// A player: how much of a difference is felt, times the usual thresholds; and how gradually, times
// the usual widths.
struct Player {
  double threshold = 1, blur = 1;
};
// Chances that each complaint is felt, by soft thresholds: estimates, no source
// (docs/theory/complaint.md).
Feelings calc_feelings(const Played& note, const Played& sound, const Player& player = {});

// Of what is felt so many are told, and so many are told of any note for reasons that no mechanism
// has (estimates).
inline constexpr double told = 0.75, idle = 0.002;
// Chance that a complaint is made.
constexpr double mention(double felt) { return 1 - (1 - idle) * (1 - told * felt); }

}  // namespace batten::complaint

// What is regulated at one note: the readings a plan works toward, and what sets each.
#pragma once

#include "core/keyboard/key.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace batten {

// In the unit of the reading each is filed under (reading_of).
enum class Aim : std::uint8_t {
  key_height,  // of a sharp: over the naturals beside it
  jack_position,
  jack_clearance,
  spring_rise,  // grade, here a real number 0…4
  blow,
  dip,
  let_off,
  drop,
  check_distance,
  aftertouch,
  damper_start,
};

inline constexpr std::size_t aim_count = 11;
constexpr std::size_t index_of(Aim aim) { return static_cast<std::size_t>(aim); }
inline constexpr std::array<Aim, aim_count> all_aims{
    Aim::key_height,     Aim::jack_position, Aim::jack_clearance, Aim::spring_rise,
    Aim::blow,           Aim::dip,           Aim::let_off,        Aim::drop,
    Aim::check_distance, Aim::aftertouch,    Aim::damper_start};

// The adjusters of one note, which are the first of the catalogue, in its order: capstan to damper
// wire.
inline constexpr std::size_t note_adjuster_count = 10;
constexpr std::size_t index_of(Adjuster adjuster) { return static_cast<std::size_t>(adjuster); }

// What the aim is read as at the key: dip as sharp_dip and key_height as sharps_height at a sharp.
Reading reading_of(Aim aim, Key key);
// Nothing for readings that are no aim (string height, weights, …); jack_wink tells of the
// clearance, hammer_height of the blow.
std::optional<Aim> aim_of(Reading reading);
// The adjuster whose purpose the aim is; front punchings for the aftertouch too, which nothing sets
// by itself.
Adjuster adjuster_for(Aim aim);
// The aim an adjuster is turned for. Only for adjusters of a note.
Aim aim_for(Adjuster adjuster);

}  // namespace batten

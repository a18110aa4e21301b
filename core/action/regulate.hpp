// Virtual regulation: from readings wanted to adjustments; and what each adjuster does to each
// reading.
#pragma once

#include "core/action/readings.hpp"

#include <array>

namespace batten::action {

// What the hand is asked to bring about. m; the spring as its strength.
struct Wanted {
  double blow = 0.0455, let_off = 0.0016, drop = 0.0015;
  double dip = 0.0100;            // by front punchings
  double check_distance = 0.014;  // of the static catch: where a blow ends hangs on its bounce
  double key_height = 0;          // over the design, by balance punchings
  double jack_clearance = 0.00015, jack_position = 0;
  double spring = 0;          // Adjustments::spring
  double damper_start = 0.5;  // share of the blow
};

struct Regulated {
  Adjustments adjustments;
  Readings readings;     // with them; no blow, no trials, no curves
  double worst = 0;      // largest miss, in readings' tolerance of 10 um (damper: 0.002)
  bool reached = false;  // worst <= 1 and no fault
};

// From any start; `start`, if given, is a neighbour's result and saves most of the work. The
// reading named in an error is out of reach by the figure given. Error: as calc_readings, or what
// cannot be had and why.
//
// First the heights and the jack's place at rest; then a press with button, screw and punching out
// of the way shows where they must stand; then let-off and drop on a key that goes deeper than
// wanted; then all at once. Newton's steps on the influence matrix, with Broyden's corrections.
Result<Regulated> solve_regulation(const Dimensions& dimensions, const Wanted& wanted,
                                   const Adjustments* start = nullptr);
std::vector<Result<Regulated>> solve_regulation(std::span<const Dimensions> dimensions,
                                                std::span<const Wanted> wanted,
                                                std::span<const Adjustments> starts = {});

// Readings that have a place in the influence matrix, in this order.
enum class Row : std::uint8_t {
  blow,
  let_off,
  drop,
  dip,
  aftertouch,
  check_distance,
  key_height,
  jack_clearance,
  jack_position,
  lost_motion,
  down_weight,
  up_weight,
  damper_start,
  shank_gap,
  spring_rise,
  let_off_bump,
};
inline constexpr int row_count = 16;

// d reading / d adjuster in SI units (per share for the spring), central differences over 50 um (4
// % of the spring), and how much they differ from those over half of it. NaN where a neighbouring
// setting has no such reading. The check's row is the static catch's.
struct Influence {
  std::array<std::array<double, adjustment_count>, row_count> value{}, error{};
};
// Without trials the row of the spring's rise is NaN; they cost ten times as much. Error: as
// calc_readings.
Result<Influence> calc_influence(const Note& note, bool with_trials = false);

}  // namespace batten::action

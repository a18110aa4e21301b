// What a gauge, a weight and an eye would read on one note, from its dimensions and adjustments.
#pragma once

#include "core/action/sweep.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace batten::action {

// One note as it is set.
struct Note {
  Dimensions dimensions;
  Adjustments adjustments;
};

// Why a note does not work, most harmful first.
enum class Fault : std::uint8_t {
  blocked,        // pressed slowly, the hammer is held against the string
  lever_carried,  // the lever, stopped too high or too late, carries the hammer into the string
  no_escapement,  // the key bottoms before the jack is tripped
  jack_trapped,   // after a slow release the jack does not come back under the knuckle
  touches_check,  // the tail touches the check on the way up
  not_found,      // the calculation did not come to an end
};

// m, N; a reading that a fault makes meaningless is NaN.
struct Readings {
  double blow = 0;            // crown below the string at rest
  double let_off = 0;         // at the turning point of a slow press
  double drop = 0;            // fall from there
  double dip = 0;             // front travel under 300 g
  double aftertouch = 0;      // dip less the depth at which the hammer falls
  double check_distance = 0;  // after the standard blow
  double key_height = 0;      // rise of the key's front over the design
  double jack_clearance = 0;  // jack's top below the lever's top, to the undeformed knuckle
  double jack_position = 0;   // jack's rear face before the rear face of the knuckle's core
  double lost_motion = 0;     // key travel before the hammer moves
  double rest_scatter = 0;    // rest height after a hard blow less after a slow release
  double spring_rise = 0;     // m/s, fastest rise of the crown when eased out of check
  int spring_grade = 0;       // 0-4 as the catalogue says
  double down_weight = 0, up_weight = 0;  // N, damper held up
  double let_off_bump = 0;                // N over the force before it
  double damper_start = 0;                // share of the blow
  double shank_gap = 0;                   // over its cushion
  double ratio_start = 0, ratio_end = 0;  // local hammer/key ratio, rest and before let-off
  double ratio_mean = 0;                  // integrated over the travel to let-off
  double ratio_identity = 0;              // (blow - let-off)/(dip - aftertouch)
  std::vector<Fault> faults;
  std::vector<SweepPoint> down, up;  // the slow press itself, damper included
};

struct ReadOptions {
  SweepOptions sweep;
  bool with_blow = true;  // also the standard blow: check distance, spring rise, rest scatter, trap
  bool keep_curves = true;
};

// Pure; eight notes go side by side where there are several. Error: a note that cannot be put
// together or has a dimension out of range (see lay_out, check); faults of a note that works badly
// are in its Readings.
Result<Readings> calc_readings(const Note& note, const ReadOptions& options = {});
std::vector<Result<Readings>> calc_readings(std::span<const Note> notes,
                                            const ReadOptions& options = {});

// Lead mass (kg, negative behind the balance point) that gives a balance weight (N at the front,
// damper up). Error: as above, or none within +-0.3 kg.
Result<double> solve_lead(const Note& note, double balance_weight);

}  // namespace batten::action

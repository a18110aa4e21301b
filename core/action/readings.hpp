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
  blocked,        // pressed slowly, the hammer comes to the string
  lever_carried,  // the lever, stopped too high or too late, carries the hammer on: it does not
                  // fall
  no_escapement,  // the key bottoms before the jack is tripped
  jack_trapped,   // after a slow release the jack does not come back under the knuckle
  touches_check,  // the tail touches the check on the way up
  not_found,      // the calculation did not come to an end
};

// m, N; a reading that a fault makes meaningless is NaN. At rest: the place to which the note
// creeps by itself. Slowly: pressed at 5 mm/s without inertia (sweep.hpp). Estimates said to be an
// eye's are no more than that.
struct Readings {
  double blow = 0;  // crown below the string at rest
  // Crown below the string at the turning point of a slow press. NaN unless the hammer falls more
  // than 0.25 mm from there, which proves the escapement.
  double let_off = 0;
  double drop = 0;  // fall from there to the first place where the hammer rests or turns
  double dip = 0;   // front travel under 300 g on the front punching, what bends and gives included
  // Dip less the depth at which the hammer has just been seen to fall, by 0.1 mm: the thickest shim
  // on the front punching over which it still does.
  double aftertouch = 0;
  // Crown below the string where the falling tail first touches the check, the key at the dip.
  double static_catch = 0;
  // After the standard blow, a middling pressed stroke; NaN: not caught. Without blow (ReadOptions)
  // the static catch.
  double check_distance = 0;
  double key_height = 0;      // rise of the key's front over the drawn design, felts giving
  double jack_clearance = 0;  // jack's top below the lever's top, to the undeformed knuckle
  // Jack's rear face before the rear face of the knuckle's core (1.1 mm behind its centre,
  // estimate)
  double jack_position = 0;
  // Key travel before the jack takes the hammer when the lever gives way, as under a firm touch:
  // gap under the undeformed knuckle over the jack's rise.
  double lost_motion = 0;
  double rest_scatter =
      0;  // crown below the string a second after a hard blow, less after a slow release
  double spring_rise = 0;  // m/s, fastest rise of the crown when eased out of check
  int spring_grade = 0;    // 0-4 as the catalogue says
  // N, mean over depths of 1.5 to 4 mm, damper held up; up NaN: the key does not come up by itself.
  double down_weight = 0, up_weight = 0;
  // N over the force where toe or tip first touches, damper included in both
  double let_off_bump = 0;
  double damper_start = 0;  // share of the blow when the damper has risen 0.05 mm; NaN: it does not
  double shank_gap = 0;     // over its cushion
  // Local hammer/key ratio, from the contacts' normals, of whatever carries the hammer: at rest,
  // before the jack is tripped, and its mean over the travel to where the hammer falls, in which
  // the wood's bending, and what the lever gives way until the jack takes the hammer, count as
  // travel that does nothing.
  double ratio_start = 0, ratio_end = 0, ratio_mean = 0;
  double ratio_identity = 0;  // (blow - let-off)/(dip - aftertouch)
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

// What can be read on an action: names, units, usual figures, tolerances, how to take it.
//
// Values only. Distances are positive, save three that have a side (datum transfer, jack clearance,
// jack position), said in how they are taken; heights are millimetres above a datum the user names.
// Usual figures and tolerances are starting points a user edits per piano: makers' sheets differ
// from each other by more than a tolerance.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

namespace batten {

enum class Reading : std::uint8_t {
  string_height,
  hammer_height,
  datum_transfer,
  blow,
  key_height,
  sharps_height,
  dip,
  sharp_dip,
  let_off,
  drop,
  aftertouch,
  check_distance,
  jack_clearance,
  jack_wink,
  jack_position,
  spring_rise,
  down_weight,
  up_weight,
  damper_start,
  shank_gap,
  hammer_centre_friction,
  hammer_spacing,
  hammer_travel,
  hammer_squareness,
  unison_level,
  pedal_free_play,
  damper_tray_lift,
  damper_up_stop_gap,
  sostenuto_blade_height,
  sostenuto_tab_line,
  shift_distance,
  humidity,
  temperature,
  // Which string of a unison is off level: unison_level is the largest of them.
  left_string_gap,
  middle_string_gap,
  right_string_gap,
};

// The unit a value of the reading is kept in.
enum class ReadingUnit : std::uint8_t {
  millimetre,
  gram_force,
  fraction,  // 0…1
  grade,     // whole number, the reading's own scale
  percent,
  celsius,
};

// Where a figure comes from.
enum class Provenance : std::uint8_t {
  published,        // read in a publication named in docs/theory/sources.md
  trade,            // trade texts that agree
  common_practice,  // common practice, no source
};

enum class Scope : std::uint8_t {
  per_note,
  per_piano,  // pedals: once for the instrument
  per_visit,  // the room
};

struct ReadingKind {
  Reading id;
  std::string_view code;  // "string-height": what is typed and filed
  std::string_view name;  // "string height": what is said
  ReadingUnit unit;
  Scope scope;
  std::string_view how;  // one sentence: how the hand takes it
  // Usual figures; nothing where they vary with the piano.
  std::optional<double> usual_low, usual_high;
  // Around the target, and against the fair curve of the neighbours; nothing where it is not set.
  std::optional<double> tolerance_absolute, tolerance_neighbours;
  // Outside these it is a slip of the hand or the wrong unit, refused with a question.
  double possible_low, possible_high;
  // One standard deviation of a careful single reading, used when the user states none.
  double usual_uncertainty;
  double minutes;  // one reading, gauge in hand: first guess, no source
  Provenance provenance;
};

// All of them, in the order of the enumeration.
std::span<const ReadingKind> reading_kinds();
const ReadingKind& kind_of(Reading reading);
// By code ("string-height"); blanks, '_' and letter case forgiven. Nothing if unknown.
std::optional<Reading> reading_by_code(std::string_view code);
// "mm", "gf", "", "grade", "%", "°C"
std::string_view unit_symbol(ReadingUnit unit);

}  // namespace batten

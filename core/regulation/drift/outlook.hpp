// How a regulated action will wander out of its tolerances, and when to come back: values only.
//
// docs/theory/drift.md derives the model. Times are Unix time, milliseconds, UTC; days are 24 h.
#pragma once

#include "core/keyboard/key.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// What makes a reading move by itself.
enum class DriftCause : std::uint8_t {
  playing_in,  // new felt and leather compact, ever more slowly
  season,      // wood and cloth follow the room's moisture, forth and back
  wear,        // slowly, with the hours played
  wander,      // what none of these explains
};
inline constexpr std::size_t drift_cause_count = 4;
// "playing-in", "season", "wear", "wander"
std::string_view code_of(DriftCause cause);

// Shares are 0…1, of the notes whose reading is known (of one reading), or of all such readings at
// all notes (of the whole). 90 % of futures lie between low and high.
struct OutlookPoint {
  double day = 0;  // after `from_ms`
  std::int64_t at_ms = 0;
  double share = 0, low = 0, high = 0;
  double chance_over_limit = 0;
};

enum class DueState : std::uint8_t {
  unknown,  // nothing has been read that could wander
  overdue,  // the share lies above the limit already
  due_at,   // by `at_ms` the share has passed the limit in one future of two
  beyond,   // not within the months looked at
};
// "unknown", "overdue", "due-at", "beyond"
std::string_view code_of(DueState state);

// When the share is expected to pass the limit: as likely before as after. The span holds 90 % of
// the crossings; an end that lies behind the months looked at is nothing.
struct OutlookDue {
  DueState state = DueState::unknown;
  std::optional<double> day;  // only due_at; after `from_ms`
  std::optional<std::int64_t> at_ms;
  std::optional<double> low_day, high_day;
  std::optional<std::int64_t> low_ms, high_ms;
};

// What a cause is believed to do to a reading, mean over its notes, in the reading's unit, signed
// as the reading: playing in until it has stopped, from now; season from its driest to its dampest
// (+: larger when damp); wear in a year; wander none. `own_sd`: from note to note.
struct OutlookCause {
  DriftCause cause = DriftCause::playing_in;
  double mean = 0, sd = 0, own_sd = 0;
};

struct OutlookReading {
  Reading reading = Reading::blow;
  double tolerance = 0;    // about the target, the reading's unit
  int notes = 0;           // known
  int pairs = 0;           // left at one visit and found at the next: what taught
  double outside_now = 0;  // expected number of notes outside today
  std::array<OutlookCause, drift_cause_count> causes{};  // order of DriftCause
  std::vector<OutlookPoint> points;
  OutlookDue due;  // by this reading's own share
};

// One note's reading as it is expected: what E's list of work and the bench ask.
struct OutlookNote {
  Key key;
  Reading reading = Reading::blow;
  double target = 0, tolerance = 0;
  double left = 0;                             // after the last work, as read or set
  double now = 0, now_sd = 0;                  // today
  double outside_now = 0, outside_at_due = 0;  // chances; the second at the due date, else the last
};

// On what it all rests.
struct OutlookGrounds {
  int visits = 0;  // with readings of notes
  int pairs = 0;   // left → found, all readings together
  int humidities = 0;
  // 0: all from priors, 1: the piano's own past has settled what it can: 1 − mean of (posterior /
  // prior variance) of the shared effects.
  double learned = 0;
  bool new_felt_known = false, playing_hours_known = false, climate_known = false;
};

struct Outlook {
  std::int64_t from_ms = 0;                  // today, as it was asked for
  std::optional<std::int64_t> last_work_ms;  // last reading or move on record
  double limit = 0.2;                        // share
  int months = 24;
  double notes_outside_now = 0;          // expected share, all readings
  int known = 0;                         // readings at notes that are counted
  std::vector<OutlookPoint> points;      // day 0, then monthly (30.4375 days): months + 1
  std::vector<OutlookReading> readings;  // catalogue order; those with a known note
  std::vector<OutlookNote> notes;        // by reading, then up the keys
  OutlookDue due;
  OutlookGrounds known_from;
};

// After what the piano is looked at.
enum class Spell : std::uint8_t { dry, wet, heavy_use, new_felt, transport, new_hammers };
// "dry", "wet", "heavy-use", "new-felt", "transport", "new-hammers"
std::string_view code_of(Spell spell);
std::optional<Spell> spell_by_code(std::string_view code);

struct FirstCheck {
  Reading reading = Reading::blow;
  // What the spell is expected to do to it, reading's unit, mean over its notes; and typically,
  // root mean square with all that is not known of it, in tolerances.
  double change = 0, sd = 0, in_tolerances = 0;
  double newly_outside = 0;  // expected share of its notes that leave the tolerance by it
  std::vector<Key> notes;    // samples to read, the likeliest outside first
};

struct FirstChecks {
  Spell spell = Spell::dry;
  // What was assumed of it: percent moisture content of the wood, or hours played.
  double moisture = 0, hours = 0;
  std::vector<FirstCheck> checks;  // most in tolerances first; empty for a list
  std::vector<std::string>
      listed;                   // transport, new hammers: keys of words, or the user's own lines
  bool listed_is_ours = false;  // common practice, no source; else the user's own
  OutlookGrounds known_from;
};

}  // namespace batten

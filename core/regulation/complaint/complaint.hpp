// From what a player feels at one note to the misregulation that does it: causes ranked by
// simulating each of them, and the one look that would tell them apart best.
//
// What is felt, how causes are distributed and how likely each is beforehand are estimates, no
// source; what a cause does to readings and strokes is calculated by core/action. How well that
// does on invented notes: docs/theory/complaint-figures.md.
#pragma once

#include "core/action/prepare.hpp"
#include "core/keyboard/key.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// What a player says of one note, beside its neighbours.
enum class Complaint : std::uint8_t {
  does_not_repeat,
  double_strikes,
  hits_a_wall,
  falls_through,
  weak,
  too_heavy,
  too_light,
  jams,
  bobbles,
  slow_to_return,
  silent_when_soft,
  uneven,
  clicks,
  notchy,
  dead_start,
  fails_when_loud,
  rings_on,
  choked,
};
inline constexpr std::size_t complaint_count = 18;

struct ComplaintKind {
  Complaint id;
  std::string_view code;      // "double-strikes": what is typed and filed
  std::string_view sentence;  // as a player would put it
};
std::span<const ComplaintKind> complaint_kinds();
const ComplaintKind& kind_of(Complaint complaint);
// By code; blanks, '_' and letter case forgiven. Nothing if unknown.
std::optional<Complaint> complaint_by_code(std::string_view code);

// What a hand may look at to find the cause: readings of the catalogue, and trials by hand with a
// grade (0 in order, 1 a little, 2 plainly).
enum class Look : std::uint8_t {
  blow,
  key_height,
  dip,
  let_off,
  drop,
  aftertouch,
  check_distance,
  jack_clearance,
  jack_position,
  spring_rise,
  down_weight,
  up_weight,
  damper_start,
  hammer_centre_friction,
  key_freedom,
  wippen_freedom,
  jack_freedom,
  lever_freedom,
  hammer_play,
  knuckle_wear,
};
inline constexpr std::size_t look_count = 20;

struct LookKind {
  Look id;
  std::string_view code;
  std::string_view name;
  std::optional<Reading> reading;  // nothing: a trial by hand
  ReadingUnit unit;
  std::string_view how;                // one sentence
  std::string_view none;               // what it is when it cannot be read; empty: it always can
  double usual_uncertainty;            // one standard deviation; the catalogue's where it has one
  double possible_low, possible_high;  // outside is a slip
};
std::span<const LookKind> look_kinds();
const LookKind& kind_of(Look look);
std::optional<Look> look_by_code(std::string_view code);
// dip for sharp_dip, key_height for sharps_height too. Nothing for readings that tell nothing here.
std::optional<Look> look_of(Reading reading);

// Looks that come of one handling: what is proposed next.
enum class Taking : std::uint8_t {
  slow_press,      // let-off, drop, damper start
  key_travel,      // key height, dip, aftertouch
  blow_block,      // blow
  check_and_ease,  // check distance, spring rise
  jack_place,      // jack clearance, jack position
  hammer_up,       // freedom of wippen, jack and lever; knuckle; play of the hammer's centre
  weights,         // down and up weight
  hammer_flange,   // hammer centre friction
  key_freedom,     // freedom of the key
};
inline constexpr std::size_t taking_count = 9;

struct TakingKind {
  Taking id;
  std::string_view code;
  std::string_view name;  // "a slow press"
  std::span<const Look> looks;
};
std::span<const TakingKind> taking_kinds();
const TakingKind& kind_of(Taking taking);
std::optional<Taking> taking_by_code(std::string_view code);

// A single misregulation or fault of one note.
enum class Cause : std::uint8_t {
  capstan_low,
  capstan_high,
  balance_punchings_short,
  balance_punchings_over,
  front_punchings_over,
  front_punchings_short,
  jack_toward_player,
  jack_toward_hammer,
  lever_high,
  lever_low,
  spring_weak,
  spring_strong,
  let_off_close,
  let_off_early,
  drop_small,
  drop_large,
  check_near,
  check_far,
  damper_early,
  damper_late,
  hammer_centre_tight,
  hammer_centre_loose,
  wippen_tight,
  jack_sluggish,
  lever_tight,
  key_tight,
  knuckle_worn,
  touch_heavy,
  touch_light,
  something_else,  // a fault that is not in this list
  no_fault,        // regulation as it should be
};
inline constexpr std::size_t cause_count = 31;
inline constexpr std::size_t listed_cause_count = 29;  // without the last two

struct CauseKind {
  Cause id;
  std::string_view code;
  std::string_view name;             // "the capstan stands too low"
  std::optional<Adjuster> adjuster;  // that mends it; nothing: no adjuster does
  int mend = 0;                      // +1, −1: the catalogue's direction of that move
  std::optional<Look> mended;        // what the move is read by
  std::string_view remedy;           // one or two sentences
  double prior;                      // weight beforehand; estimate, no source
};
std::span<const CauseKind> cause_kinds();
const CauseKind& kind_of(Cause cause);
std::optional<Cause> cause_by_code(std::string_view code);

// One look taken.
struct Sighting {
  Look look = Look::blow;
  // The look's unit; nothing: it cannot be read (the hammer does not let go, is not caught, …).
  std::optional<double> value;
  std::optional<double> uncertainty;  // one standard deviation, > 0; the usual one if not given
  // What sound notes beside it read; what the note is regulated to if not given. Needed for
  // key_height, which has no figure of its own.
  std::optional<double> beside;
};

// What every cause in several sizes does to one note: calculated once for a note, then asked as
// often as one likes.
struct ComplaintTable {
  struct Entry {  // one cause in one size
    Cause cause = Cause::no_fault;
    double size = 0;                                // as core/regulation/complaint/faults.hpp
    double weight = 0;                              // beforehand, all entries together 1
    std::array<double, look_count> expected{};      // look's unit; NaN: cannot be read
    std::array<double, look_count> spread{};        // sd of what is expected: a sound hand's
                                                    // leftovers and the model's error
    std::array<double, complaint_count> mention{};  // chance that a player mentions it
    double blocks = 0;  // chance that the hammer cannot let go of the string
  };
  Key key;
  std::vector<Entry> entries;              // something_else and no_fault last
  std::array<double, look_count> sound{};  // what the note reads when it is in order
  // Of every look, bin by bin, what chance each entry gives it; for the entropies of next looks.
  std::vector<float> outcomes;
};
// About 120 simulated notes. Error: as action::calc_readings; the note is named.
Result<ComplaintTable> calc_complaint_table(const action::PreparedNote& note);

// A look that was taken, beside what a cause would make it read and what a note in order reads. The
// look's unit; NaN: cannot be read.
struct LookCompared {
  Look look = Look::blow;
  double seen = 0, given = 0, sound = 0;
};

// Why a cause stands where it does: what it explains of what was felt and what it does not, and how
// what was read sits with it.
struct CauseReason {
  std::vector<Complaint> explained, unexplained;
  std::vector<LookCompared> looks;
};

struct RankedCause {
  Cause cause = Cause::no_fault;
  double probability = 0;
  CauseReason because;  // empty below one in a hundred and of the last two causes
  std::string reason;   // the same in words and figures
};

// What is not yet known of a note, and what finding it out would tell, by the model. bits.
struct NextTaking {
  Taking taking = Taking::slow_press;
  double entropy_before = 0;
  double entropy_after = 0;  // expected
};
struct NextLook {  // one figure alone
  Look look = Look::blow;
  double entropy_before = 0;
  double entropy_after = 0;
};

// What to do about a cause that is known.
struct Mend {
  Cause cause = Cause::no_fault;
  std::optional<Adjuster> adjuster;
  int direction = 0;            // catalogue's sign of the move
  std::optional<Look> read_by;  // to see that it is mended …
  double from = 0, to = 0;      // … and about from where to where; look's unit
  std::string text;
};

// A cause is acted on from this chance; below it is not known.
inline constexpr double known_from = 0.8;

struct Diagnosis {
  std::vector<RankedCause> ranked;  // likeliest first; all causes, the two last of Cause included
  // The leader is a listed cause and likely enough (known_from) to act on. Else: it is not known.
  bool known = false;
  double entropy = 0;  // bits, over causes
  // Best first; none if nothing is left that would tell 0.02 bits. A taking counts the looks of it
  // that have not been taken.
  std::vector<NextTaking> next;
  std::vector<NextLook> next_figures;
  std::optional<Mend> mend;  // if known
  std::vector<Caution> cautions;
  std::string summary;  // two sentences for a person
};

// P(cause | what was felt, what was read) by Bayes over the table's entries. Order of complaints
// and sightings does not matter; the same look twice counts as two independent looks. Error:
// nothing felt and nothing read, a value outside what can be, an uncertainty that is not positive,
// a key height without its neighbours'.
Result<Diagnosis> diagnose(const ComplaintTable& table, std::span<const Complaint> felt,
                           std::span<const Sighting> seen);

}  // namespace batten

// The line job: from string and hammer heights to what each capstan should be turned.
//
//   hammer target = fair curve of the strings − blow target
//   deviation     = hammer height (brought to the strings' datum) − hammer target
//   move          = −deviation / (mm of crown per turn of the capstan)
#pragma once

#include "core/fairing/fair_curve.hpp"
#include "core/journal/fold.hpp"
#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/quantities/quantity.hpp"
#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/catalogue/preparation.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace batten {

// Blow wanted in one section: from its first note to its last, straight between.
struct BlowTarget {
  Length at_first;
  Length at_last;
};

// Per-piano choices, as they stand in the journal:
//   sections            "E2 bridge, A#4 strut, D6 strut"; needed, see parse_sections
//   blow-target         "46 to 45 mm" straight over the compass; or one a section:
//                       "46 to 45.5; 45.5; 45.5 to 45; 45"
//   samples             "plain", "fuller", or notes: "A0 B0 E1"
//   hammer-datum        "strings" or "bench"
//   crown-per-turn      "9 mm, 1.5 mm" or "9; 1,5": mean and standard deviation
//   turn-step           "1/64"
//   direction-sureness  "0.95": from 0.5 up to but not 1
//   out-of-service      notes, or empty
//   undamped-from       "G6": the lowest note without a damper
struct LineSettings {
  std::vector<Section> sections;
  std::vector<BlowTarget> blow;   // one per section
  std::vector<Key> samples;       // rising
  bool hammers_on_bench = false;  // hammers read over another datum than the strings
  // Rise of the crown per turn of a capstan: mean and standard deviation. The default, 9 ± 1.5 mm,
  // is common practice, no source: a 1/16 turn moves a crown somewhat more than half a millimetre.
  LengthPerTurn crown_per_turn = 9 * millimetre / turn;
  LengthPerTurn crown_per_turn_sd = 1.5 * millimetre / turn;
  int turn_denominator = 64;         // smallest part of a turn a hand makes on purpose
  double direction_sureness = 0.95;  // a move is advised when its direction is at least this sure
  std::vector<Key> out_of_service;
  std::optional<Key> undamped_from;  // nothing about dampers is asked from here up
};

// Least and most blow that may be wanted anywhere, mm. Outside it a hammer has no room to be let
// off or no power; makers' sheets lie between 44 and 48.
inline constexpr Length least_blow = 35 * millimetre;
inline constexpr Length most_blow = 60 * millimetre;

// The settings on record over the defaults (blow 46 to 45 mm, samples plain). Errors: no sections
// on record; a setting that cannot be read, named; a blow target outside the limits above.
Result<LineSettings> line_settings(Compass compass,
                                   const std::map<std::string, std::string>& on_record);

// Reads one setting alone, to refuse it before it is written down. Error also: no such setting.
Result<void> check_line_setting(Compass compass, const std::vector<Section>& sections,
                                const std::string& name, const std::string& value);

// Bench heights to strings' datum: add offset. A straight line over the keyboard, because the bench
// and the key bed need not be parallel.
struct TransferEstimate {
  bool needed = false;
  int readings = 0;
  bool ready = true;  // not needed, or read often enough (three readings)
  Length offset_at_lowest, offset_at_highest;
  Length sd_middle,
      sd_ends;  // standard deviation in the middle and at the worse end of the compass
};

enum class Verdict {
  not_read,     // no hammer height here
  no_target,    // nothing known of the strings here
  no_transfer,  // hammers read on a bench, the bench not yet tied to the strings' datum
  out_of_service,
  move,              // turn the capstan
  leave_fine,        // smaller than the smallest move
  leave_noise,       // its direction is not sure enough
  moved_read_again,  // turned since it was last read
  read_again,        // the reading is doubtful or far outside what a line can be
  target_unsure,  // the strings here are not known well enough to set a hammer by: read them first
  held_escapement,  // lowering so far could take the escapement away: read aftertouch first
  held_block,       // raising so far would bring the crown too near: check blow and let-off first
};

struct NoteLine {
  Key key;
  int section = 0;
  bool sample = false;
  std::optional<Length> string_read, string_read_sd;  // mean of the readings here that count
  Length string_fair, string_sd;                      // fair curve; sd infinite where unknown
  Length blow_target;
  Length target, target_sd;                       // hammer target
  std::optional<Length> hammer, hammer_sd;        // in the strings' datum
  std::optional<Length> deviation, deviation_sd;  // + hammer stands too high
  std::optional<Length>
      to_neighbours;  // against the fair curve of the hammers around it: what the eye sees
  Verdict verdict = Verdict::not_read;
  Turns turns;          // signed, rounded to a step; + raises. Only for Verdict::move
  Length crown_travel;  // signed, how far the crown should go. Only for Verdict::move
};

// A finding the technician should look at: a doubtful reading, a string off the others' level.
struct Finding {
  enum class Kind { reading_flagged, reading_asked, unison_off_level } kind;
  Key key;
  Length read;      // the reading, or the unison's spread
  Length expected;  // what the rest say (readings only)
  Length expected_sd;
  double chance_wrong = 0;
};

struct SectionSummary {
  Section section;
  BlowTarget blow;
  int strings_read = 0, hammers_read = 0;
  int moves = 0;
  std::optional<Length> evenness_to_target;      // RMS deviation from target
  std::optional<Length> evenness_to_neighbours;  // RMS deviation from the fair curve of the hammers
  Length target_sd_rms;
};

struct PreparationGate {
  bool open = false;
  struct Item {
    PreparationItem item;
    std::optional<PreparationRecord> record;
    std::vector<Key> wanting_notes;
    bool earlier_visit = false;  // passed, but in an earlier visit: look again
    bool passed = false;
  };
  std::vector<Item> items;  // all, catalogue order
};

struct Line {
  Compass compass;
  LineSettings settings;
  std::vector<NoteLine> notes;  // one per key of the compass
  std::vector<SectionSummary> sections;
  TransferEstimate transfer;
  PreparationGate gate;
  std::vector<Finding> findings;
  std::vector<NextReading> next_string;  // which string height to read next, best first
  std::vector<Key> order;  // the notes to move, in working order; empty while the gate is shut
  std::vector<Caution> cautions;
  double noise_factor = 1;
  std::optional<Length> evenness_to_target, evenness_to_neighbours;  // whole compass

  const NoteLine& at(Key key) const {
    return notes[static_cast<std::size_t>(compass.position(key))];
  }
};

// What the hand does, in words: "raise", "lower", or why nothing: one short phrase.
std::string verdict_words(const NoteLine& note);

// The preparation by itself, of what stands in the journal; sections need not be on record.
PreparationGate preparation_gate(const Standing& standing);

// Everything from what stands in the journal: strings, hammers and transfers each from the latest
// visit that read them; of a note's hammer only what was read after its last move. Never advises a
// capstan while the gate is shut, while a needed datum transfer has fewer than three readings, on a
// doubtful reading, or where the model of the move says a hammer could block or lose its
// escapement.
Result<Line> calc_line(Compass compass, const Standing& standing);

}  // namespace batten

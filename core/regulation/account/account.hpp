// What was found, what was done and what is left: a visit told from its journal.
#pragma once

#include "core/journal/fold.hpp"
#include "core/regulation/planning/plan.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace batten {

// Whence it is known how a reading stands now.
enum class Basis : std::uint8_t {
  unread,    // nobody has read it: nothing is claimed
  earlier,   // read in an earlier visit only
  reckoned,  // read in this visit, moved since; the model carries it on
  read,      // read in this visit, and nothing has moved it since
};

struct NoteAccount {
  Key key;
  Aim aim = Aim::blow;
  Reading reading = Reading::blow;  // as filed: dip as sharp-dip at a sharp
  // Catalogue unit, as every figure here.
  double target = 0, tolerance = 0, neighbour_tolerance = 0;
  // First reading of the visit; a hammer height is told as blow.
  std::optional<double> first;
  double first_sd = 0;
  // Whether it was taken before the adjuster of the reading, or one that shifts the reading by more
  // than a quarter of its tolerance against neighbours, was turned in this visit.
  bool as_found = false;
  Basis basis = Basis::unread;
  // Only where something was read: its last reading where that still stands, so that before and
  // after are the same kind of figure; else what is believed.
  double now = 0, now_sd = 0;
  bool shifted = false;  // turned, or shifted that far, since the first reading
  bool doubted = false;  // the last reading does not fit what came before it

  bool known() const { return basis == Basis::read || basis == Basis::reckoned; }
  bool outside_at_first() const;
  bool outside_now() const;
};

// How far a set of notes lies off.
struct Spread {
  int notes = 0, outside = 0;          // outside the tolerance against the target
  double rms = 0, rms_tolerances = 0;  // against the target; 0 without notes
  int beside = 0, outside_beside = 0;  // notes with a neighbour on both sides; of them outside
  double beside_rms = 0, beside_rms_tolerances = 0;  // against the mean of both neighbours
};

struct ReadingAccount {
  Reading reading = Reading::blow;
  int asked = 0;     // notes that have it
  int read = 0;      // of them read in this visit
  int as_found = 0;  // of them before anything shifted it
  int now_read = 0, now_reckoned = 0, only_earlier = 0;
  Spread found;  // all that were read as found
  Spread now;    // all that are known now
  // The same notes before and after: read as found, and known now.
  Spread compared_found, compared_now;
};

struct AdjusterAccount {
  Adjuster adjuster = Adjuster::capstan;
  int moves = 0, notes = 0;           // entries; different notes
  double positive = 0, negative = 0;  // sums either way, adjuster's unit, neither below 0
};

struct NoteMoves {
  Adjuster adjuster = Adjuster::capstan;
  std::optional<Key> key;  // none: an adjuster of the piano
  int moves = 0;
  double amount = 0;  // all of them together, signed
};

// A reading that is no aim of a note: weights, pedals, the room.
struct OtherAccount {
  Reading reading = Reading::humidity;
  std::optional<Key> key;
  int times = 0;  // in this visit
  double first = 0, last = 0;
  std::int64_t first_ms = 0, last_ms = 0;  // Unix time, milliseconds
};

struct StillOutside {
  enum class Why : std::uint8_t {
    skipped,  // knowingly left; the reason is on record
    held,     // a move is wanted and not asked for
    to_do,    // the plan asks for it
    no_move,  // nothing is asked: too small to be sure of, or nothing sets it by itself
  } why = Why::no_move;
  NoteAccount note;
  std::optional<Entry> skip;
  std::optional<Hold> hold;
};

struct Account {
  Uuid visit;                      // of the last entry in force
  std::vector<NoteAccount> notes;  // every aim asked of every note: by reading, then up the keys
  std::vector<ReadingAccount> readings;  // those that some note has
  std::vector<AdjusterAccount> moves;    // catalogue order, of this visit
  std::vector<NoteMoves> moves_of_note;  // by adjuster, then up the keys
  std::vector<OtherAccount> others;      // order of the journal
  std::vector<Entry> skips;              // that still stand, whatever visit
  std::vector<StillOutside> outside;     // order of `notes`
};

// Pure; `plan` and `model` are of this very standing.
Account calc_account(const Standing& standing, const Plan& plan, const ActionModel& model);

// Of notes of one reading, up the keys. Neighbours are the nearest on either side, a minor third
// away at most; of key height and dip those of the same colour. Levels are compared as deviations
// from target, so that a taper is no unevenness.
Spread spread_of(const std::vector<const NoteAccount*>& notes, bool at_first);

}  // namespace batten

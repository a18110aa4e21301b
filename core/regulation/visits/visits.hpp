// Two visits compared: what moved by itself between them, and what the second one changed.
//
// Catalogue units. A difference is told with its standard error, and is called one only where noise
// alone would hardly have made it.
#pragma once

#include "core/journal/fold.hpp"
#include "core/regulation/planning/state.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace batten {

// One note: found at the second visit less what the first left, moves between carried by the model;
// or what the second left less what it found.
struct NoteDifference {
  Key key;
  double value = 0, sd = 0;  // sd: of the readings, and of what the model carried
};

// A run of notes taken together.
struct Shift {
  std::optional<std::size_t> section;  // nothing: all of them
  Key first, last;                     // lowest and highest of the notes
  int notes = 0;
  double mean = 0;
  double error = 0;  // standard error of the mean
  std::optional<double>
      spread;                 // from note to note, beyond what readings would do; of three or more
  double chance = 1;          // of a mean as far from nothing, were there only noise
  double spread_chance = 1;   // of a scatter as wide
  bool beyond_noise = false;  // more than two errors off, and among the findings
  bool spread_beyond_noise = false;  // among the findings
};

struct ReadingCompared {
  Reading reading = Reading::blow;
  Adjuster adjuster = Adjuster::capstan;  // turned for it
  double tolerance = 0, neighbour_tolerance = 0;
  std::vector<NoteDifference> alone, worked;  // rising
  std::vector<Shift> by_itself;               // all, then section by section; empty: no note twice
  std::vector<Shift> changed;
};

struct RegisterMoves {
  std::size_t section = 0;
  Key first, last;
  int moves = 0, notes = 0;
  double mean = 0;  // all moves of a note together, mean over the notes moved; adjuster's unit
};

struct AdjusterCompared {
  Adjuster adjuster = Adjuster::capstan;
  Reading reading = Reading::blow;    // it is turned for
  int moves = 0, notes = 0;           // of the second visit
  double positive = 0, negative = 0;  // sums either way, neither below 0
  std::vector<RegisterMoves> by_register;
};

struct VisitsCompared {
  std::vector<ReadingCompared> readings;    // catalogue order; those with a difference at all
  std::vector<AdjusterCompared> adjusters;  // catalogue order, moved in the second visit
  int looks = 0;                            // means and scatters that were tested
};

// Of all differences called findings, this share at most is expected to be noise: kept by the
// procedure of Benjamini and Hochberg (core/numerics), for what moved by itself and for what was
// changed apart.
inline constexpr double false_finding_rate = 0.05;

// `from` before `to`, as the visits began; `order` names all visits, oldest first, and holds both.
// Left at the end of the first: its last reading, carried on by the moves made after it there.
// Found at the second: its first reading, where nothing that shifts it by more than a quarter of
// its tolerance against neighbours had been turned. A note that either did not read tells nothing.
// Means: each note's own wandering beyond its readings is estimated (DerSimonian and Laird,
// Controlled Clinical Trials 7 (1986) 177); the error is that of Hartung and Knapp (Stat. Med. 20
// (2001) 3875) on Student's t, never below what the readings alone give. Scatter: Cochran's Q on
// chi-squared.
VisitsCompared compare_visits(const Standing& standing, const Situation& situation,
                              const ActionModel& model, const std::vector<Uuid>& order,
                              const Uuid& from, const Uuid& to);

// Pure statistics of such a run, without the sections; internal, for tests. `notes` not empty.
Shift shift_of(const std::vector<NoteDifference>& notes);
// Marks findings among all the shifts; returns the number of looks.
int mark_findings(const std::vector<std::vector<Shift>*>& families);

}  // namespace batten

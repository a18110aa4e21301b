// Where were we: two sentences after any pause.
#pragma once

#include "core/journal/fold.hpp"
#include "core/regulation/planning/plan.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace batten {

struct PassProgress {
  Adjuster adjuster = Adjuster::capstan;
  int turned = 0, skipped = 0;         // notes, this visit
  int moves_left = 0, reads_left = 0;  // of the plan
  double minutes_left = 0;
  bool finished() const { return turned + skipped > 0 && moves_left + reads_left == 0; }
  bool begun() const { return turned + skipped > 0; }
};

struct JobProgress {
  // From the last reading, move, remark or skip to now; nothing: none is on record. ms, not below 0
  // (clocks of two devices may disagree).
  std::optional<std::int64_t> since_ms;
  std::string last;  // what it was: "C4 capstan"
  std::vector<PassProgress>
      passes;  // working order; those untouched with nothing left are left out
  double minutes_left = 0;
  int moves_left = 0, reads_left = 0;
};

// Pure: now_ms is Unix time, milliseconds, as the entries' own.
JobProgress calc_progress(const Plan& plan, const Standing& standing, std::int64_t now_ms);

// "You stopped 22 hours ago at the capstans: dip is done (14 notes), blow half done (11 of 67).
// Next comes let-off, 34 readings and 21 moves, about 35 minutes of 6 h 20 min."
std::string progress_words(const Plan& plan, const JobProgress& progress);

// "4 min", "1 h 5 min", "6 h 20 min": over two hours to five minutes.
std::string print_minutes(double minutes);

}  // namespace batten

// How long a move or a reading takes whoever works here, from the journal's time stamps.
#pragma once

#include "core/journal/fold.hpp"
#include "core/regulation/catalogue/working.hpp"

#include <map>
#include <string>

namespace batten {

struct PaceOptions {  // estimates, no source
  // Between entries, minutes: longer was a pause, shorter is a list typed in afterwards.
  double longest_gap = 8;
  double shortest_gap = 0.03;
  // The first guess weighs as much as so many gaps.
  double guess_weight = 8;
};

struct Pace {
  double minutes = 0;  // per move or reading, > 0 where the guess is
  int from = 0;        // gaps it was learned from; 0: the first guess as it stands
  bool operator==(const Pace&) const = default;
};

class Paces {
 public:
  Pace move(Adjuster adjuster) const;
  Pace reading(Reading reading) const;

  // Filled by learn_paces, one for every adjuster and reading.
  std::map<Adjuster, Pace> moves;
  std::map<Reading, Pace> readings;
};

// A gap is the time from one entry to the next by the same person in one visit, and belongs to what
// the later one is, where the earlier is of the same kind or served by the same adjuster (a
// blow read after a capstan). Left out: entries of one request (the same at_ms), clocks that run
// backward, gaps outside the options' span. The pace is the median of the gaps, drawn toward the
// first guess:
//   ln minutes = (guess_weight ln guess + n ln median) / (guess_weight + n);
// in logarithms because a pace is off by a factor. The median ignores up to half odd gaps. `who`
// empty: of everybody. Cost: one pass and a sort.
Paces learn_paces(const Standing& standing, const WorkingCatalogue& catalogue,
                  const std::string& who = {}, const PaceOptions& options = {});

}  // namespace batten

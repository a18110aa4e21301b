// Trials of the fair curve on invented pianos whose truth is known: how far off, how honest about
// it, and what becomes of a reading that was planted wrong. Shared by the tests and by the program
// that writes docs/theory/fairing-figures.md.
#pragma once

#include "workshop/string_line.hpp"

#include <cstdint>

namespace batten::trial {

// A mean over pianos and its standard error (the sample's standard deviation over sqrt(count)).
struct Figure {
  double mean = 0;
  double error = 0;
};

struct Plan {
  int pianos = 500;
  std::uint64_t first_seed = 100'000;  // piano i has first_seed + i
  bool fuller = true;                  // propose_fuller_samples, else propose_samples
  workshop::StringLaw strings;
  workshop::ReadingLaw readings;
  double stated = 1;                // of the noise, what the readings state
  Length planted = 1 * millimetre;  // how far off a wrong reading is, its sign by a coin
};

// Readings all honest.
struct Honest {
  Figure readings;     // how many were taken
  Figure rms;          // mm, over the 88 heights of a piano, against the truth
  double rms_95 = 0;   // mm, the 95th percentile over pianos
  Figure coverage;     // share of all keys whose truth lies within 1.96 standard deviations
  Figure false_flags;  // share of readings flagged or called wrong
};
Honest try_honest(const Plan& plan);

// The same readings with one planted wrong: at a section's first or last key, or between them.
struct Planted {
  Figure flagged;      // share of pianos whose planted reading is flagged or called wrong
  Figure false_flags;  // share of the other readings that are
  Figure rms;          // mm, as above
};
Planted try_planted(const Plan& plan, bool at_end);

// One reading planted wrong anywhere; then three readings more, each an honest one of the key that
// stands first in `next` by then.
struct Followed {
  Figure settled;      // share of pianos whose planted reading ends as `wrong`, its chance >= 0.9
  Figure false_wrong;  // share of the honest readings, those added included, that end as `wrong`
  Figure rms;          // mm, at the end
};
Followed try_followed(const Plan& plan);

}  // namespace batten::trial

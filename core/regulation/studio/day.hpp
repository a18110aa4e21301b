// Several pianos in one day: which, and in which order.
#pragma once

#include "core/outcome/outcome.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace batten {

struct DayPiano {
  double minutes = 0;  // of work there, > 0
  double worth = 0;    // what a visit sets right, ≥ 0; any unit, the same for all
  bool fixed = false;  // promised: it is taken whatever it is worth
  std::string place;   // pianos of one place are neighbours; empty: a place of its own
};

struct DayOptions {
  double minutes = 360;  // there are, 1…1440
  // Going to a place and setting up; the same from one piano to the next of a place. Estimates, no
  // source.
  double to_a_place = 25, beside = 8;
};

struct DayStop {
  std::size_t piano = 0;  // index into what was given
  double between = 0;     // minutes before it
  bool operator==(const DayStop&) const = default;
};

struct DayLeftOut {
  std::size_t piano = 0;
  enum class Why : std::uint8_t {
    too_long,    // alone it takes longer than there is (beside what is fixed)
    less_worth,  // the others set more right in the time
  } why = Why::less_worth;
  bool operator==(const DayLeftOut&) const = default;
};

struct Day {
  std::vector<DayStop> stops;
  double minutes = 0;                // used, going included
  double worth = 0;                  // of all stops
  std::vector<DayLeftOut> left_out;  // as given
};

// The fixed pianos, and of the others those that are worth most together in the time that remains:
// the best there are, to whole minutes (minutes are rounded up). Of equals the day that is shorter,
// then the pianos given first. Order: places with fixed pianos first, then what is worth most for
// its minutes; within a place likewise. So a day that ends early has done what counts most. Errors:
// the fixed ones do not fit, minutes out of range, more than 2,000 pianos. Cost: minutes × pianos.
Result<Day> plan_day(std::span<const DayPiano> pianos, const DayOptions& options);

}  // namespace batten

// Forecasts for invented pianos held against what became of them.
#pragma once

#include "core/regulation/drift/drift.hpp"
#include "workshop/aging.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace batten::trial {

struct Wanted {
  workshop::AgingLaw law = workshop::AgingLaw::as_believed;
  int pianos = 200;
  int visits = 4;
  int months = 24;
  bool tells_life = false;
  std::uint64_t first_seed = 1;
};

// A share counted over pianos (or readings of them) with its standard error, pianos independent.
struct Counted {
  double mean = 0, error = 0;
};

struct Figures {
  // Of the 90 % bands of the whole share and of each reading's, at 6, 12, 18 and 24 months.
  Counted whole, readings;
  std::vector<Counted> whole_at;  // 1, 3, 6, 12, 18, 24 months
  // Where the whole share really passes the limit within the months: how far the suggested date is
  // off, as a share of the time there is; suggested after the last month counts as the last month.
  int crossings = 0, suggested = 0;
  double median_error = 0, median_bias = 0;
  double span_covers = 0;  // share of the crossings within the 90 % span
  double mean_share = 0;   // true, at 12 months
  double mean_width = 0;   // of the whole's band, at 12 months
  double mean_learned = 0;
  double false_alarms = 0;  // dates suggested where the limit is not passed, share of all pianos
};

Figures try_pianos(const Wanted& wanted);

}  // namespace batten::trial

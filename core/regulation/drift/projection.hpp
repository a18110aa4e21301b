// One reading carried on into drawn futures: the share of its notes outside at every moment asked
// about. Internal to core/regulation/drift.
//
// What a section's notes share moves them all by one amount, so that the share outside is a
// function of that amount: it is tabulated, and the drawn futures look it up.
#pragma once

#include "core/regulation/drift/chances.hpp"
#include "core/regulation/drift/model.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace batten::drift {

// What all readings share in a future.
struct Futures {
  std::vector<double> days;  // since 1970-01-01, rising; the first is today
  // [moment][future]: moisture beyond what is expected, % ; factor of the hours played less one.
  std::vector<std::array<double, drawn>> moisture;
  std::array<double, drawn> hours{};
  std::size_t next = 0;  // of the fixed numbers
};
Futures draw_futures(const Model& model, std::vector<double> days);

struct NoteForecast {
  std::size_t note = 0;  // in the series
  double left = 0;       // level after the last event
  // Per moment: expected level, its standard deviation with all that is not known, chance outside.
  std::vector<double> mean, sd, outside;
};

struct Projection {
  int known = 0;
  std::vector<std::array<double, drawn>> share;  // [moment][future], 0…1
  std::vector<NoteForecast> notes;               // known ones
};

// `extra`: added to the drivers of every moment but the first: percent moisture and hours.
struct Extra {
  double moisture = 0, hours = 0;
};
Projection project(const Model& model, const Reckoned& reading, Futures& futures,
                   const Extra& extra = {});

}  // namespace batten::drift

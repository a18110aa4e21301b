// The demo piano's earlier visits, told backward from where it stands now, so that what was left,
// what the felt and the seasons did since, and what is found today agree. Internal to workshop/.
#pragma once

#include "core/journal/entry.hpp"
#include "core/keyboard/compass.hpp"
#include "workshop/chance.hpp"
#include "workshop/demo.hpp"

#include <array>
#include <string>
#include <utility>
#include <vector>

namespace batten::workshop {

inline constexpr const char* demo_sections = "F2 bridge, D4 strut, B5 strut";

// A day at the piano: minutes after the last, and what was written down at once.
using DemoPages = std::vector<std::pair<double, std::vector<EntryContent>>>;

// As this technician's hand and gauge give it (catalogue units).
EntryContent take_demo_reading(Key key, Aim aim, double value, Chance& chance);

// As the visit in progress found it, before any capstan was turned; other settings of that visit
// (DemoTruth::settings) are made already.
double demo_as_found(const DemoTruth& truth, Key key, Aim aim);

inline constexpr std::size_t demo_past_visits = 4;

// What the hidden law says of one earlier visit: every aim of every note as found and as left
// (catalogue units), and what was turned between, in working order.
struct DemoPastVisit {
  int days_before = 0;                   // the visit in progress
  double humidity = 0, temperature = 0;  // %, °C
  const char *title = "", *who = "";
  std::vector<std::array<double, aim_count>> found, left;
  std::vector<DemoSetting> moves;
};

// Oldest first. New felt was put in just before the first.
std::array<DemoPastVisit, demo_past_visits> demo_past(const DemoTruth& truth);

// What was written down at such a visit; `index` 0…3. `new_felt_day`: as the setting new-felt
// has it; empty: not said.
DemoPages write_demo_past(const DemoTruth& truth, const DemoPastVisit& visit, std::size_t index,
                          const std::string& new_felt_day);

}  // namespace batten::workshop

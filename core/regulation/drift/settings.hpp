// What a piano's settings say of how it ages. Grammar in docs/manual/settings.md.
#pragma once

#include "core/outcome/outcome.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace batten {

// Felt or leather put in new.
struct NewFelt {
  std::int64_t at_ms = 0;  // midnight UTC of the day
  std::string what;  // "all", "hammers", "knuckles", "cushions", "key-cloth", "checks", "dampers"
  bool operator==(const NewFelt&) const = default;
};

// The room's year as the user knows it.
struct RoomYear {
  double driest = 0, dampest = 0;   // relative humidity, %
  std::optional<int> driest_month;  // 1…12
  bool operator==(const RoomYear&) const = default;
};

struct DriftSettings {
  double playing_hours = 10;  // a week (estimate, no source), 0.5…120
  bool playing_hours_known = false;
  std::optional<RoomYear> climate;
  std::optional<double> return_limit;  // share, 0.01…0.9
  std::vector<NewFelt> new_felt;       // order as written
  bool operator==(const DriftSettings&) const = default;
};

// Settings on record:
//   playing-hours   "12", "1.5": hours a week
//   climate         "45 to 60", "45 to 60, driest february", "45 to 60; driest 2": percent relative
//                   humidity of the driest and the dampest time of the year
//   return-limit    "20 %" or "20": share of readings outside at which to come back
//   new-felt        "2025-03-01 hammers; 2024-05 all": day, or month (its first), and what
// Other settings on record are passed over. Error: one that cannot be read, named.
Result<DriftSettings> drift_settings(const std::map<std::string, std::string>& on_record);
Result<void> check_drift_setting(const std::string& name, const std::string& value);
bool is_drift_setting(const std::string& name);

}  // namespace batten

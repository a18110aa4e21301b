// Days and dates of the proleptic Gregorian calendar, UTC; core has no <chrono>.
// H. Hinnant, "chrono-Compatible Low-Level Date Algorithms" (public).
#pragma once

#include <cstdint>

namespace batten::drift {

inline constexpr double ms_per_day = 86400.0 * 1000.0;
inline constexpr double days_per_year = 365.2425, days_per_month = days_per_year / 12;

// Days since 1970-01-01; month 1…12, day 1…31.
constexpr std::int64_t days_from_civil(std::int64_t year, int month, int day) {
  year -= month <= 2 ? 1 : 0;
  const std::int64_t era = (year >= 0 ? year : year - 399) / 400;
  const std::int64_t of_era = year - era * 400;
  const std::int64_t of_year = (153 * (month > 2 ? month - 3 : month + 9) + 2) / 5 + day - 1;
  return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

constexpr int days_of_month(std::int64_t year, int month) {
  const std::int64_t next =
      month == 12 ? days_from_civil(year + 1, 1, 1) : days_from_civil(year, month + 1, 1);
  return static_cast<int>(next - days_from_civil(year, month, 1));
}

static_assert(days_from_civil(1970, 1, 1) == 0 && days_from_civil(2000, 3, 1) == 11017 &&
              days_of_month(2024, 2) == 29);

}  // namespace batten::drift

// A calendar other programs read: iCalendar, RFC 5545, of whole days.
//
// Line ends CR LF; lines folded at 75 octets, never inside a character (section 3.1); text escaped
// (3.3.11); dates without a time zone, so that a day is the same day wherever it is read.
#pragma once

#include "core/journal/uuid.hpp"

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct CalendarEvent {
  // Who reads the calendar again takes an event of the same uid for the same one, moved.
  std::string uid;
  std::chrono::year_month_day day;  // its first, or only
  int days = 1;                     // 1…366, how many it lasts
  std::string summary;              // one line
  std::string description;          // may be empty, as the place; may have line breaks ("\n")
  std::string place;
  std::optional<int> remind_days_before;  // 0…365: a reminder shown so long before
};

struct Calendar {
  std::string name;           // what a reader calls the calendar; may be empty
  std::string language;       // of summary and description: "en", "de" (RFC 5646)
  std::int64_t stamp_ms = 0;  // when it was made: Unix time, milliseconds
  std::vector<CalendarEvent> events;
};

// "next-visit-f81d4fae-…": the same for a piano each time, on every machine.
std::string next_visit_uid(const Uuid& piano);

// The whole file, the same bytes for the same values. Events take no time of the day: others stay
// free to be made on it (TRANSP:TRANSPARENT). Control characters are left out; bytes that are not
// UTF-8 become U+FFFD. Precondition: days are ok() and in the years 1 to 9998.
std::string write_calendar(const Calendar& calendar);

}  // namespace batten

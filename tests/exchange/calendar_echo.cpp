// Lets another program have calendars written by us. One record a line, texts as hex ("-" for
// none):
//   calendar NAME LANGUAGE STAMP_MS
//   event UID YYYY-MM-DD DAYS SUMMARY DESCRIPTION PLACE REMIND|-
#include "exchange/calendar.hpp"

#include <cstdio>
#include <iostream>
#include <sstream>

namespace {

std::string from_hex(const std::string& text) {
  std::string bytes;
  if (text == "-") return bytes;
  for (std::size_t i = 0; i + 1 < text.size(); i += 2)
    bytes += static_cast<char>(std::stoi(text.substr(i, 2), nullptr, 16));
  return bytes;
}

batten::CalendarEvent event_of(std::istringstream& words) {
  std::string uid, day, summary, description, place, remind;
  batten::CalendarEvent event;
  words >> uid >> day >> event.days >> summary >> description >> place >> remind;
  event.uid = from_hex(uid);
  int y = 0;
  unsigned m = 0, d = 0;
  char dash = 0;
  std::istringstream(day) >> y >> dash >> m >> dash >> d;
  event.day = std::chrono::year(y) / std::chrono::month(m) / std::chrono::day(d);
  event.summary = from_hex(summary);
  event.description = from_hex(description);
  event.place = from_hex(place);
  if (remind != "-") event.remind_days_before = std::stoi(remind);
  return event;
}

}  // namespace

int main() {
  batten::Calendar calendar;
  for (std::string line; std::getline(std::cin, line);) {
    std::istringstream words(line);
    std::string kind, name;
    words >> kind;
    if (kind == "event") {
      calendar.events.push_back(event_of(words));
      continue;
    }
    words >> name >> calendar.language >> calendar.stamp_ms;
    calendar.name = from_hex(name);
  }
  std::cout << write_calendar(calendar);
  return 0;
}

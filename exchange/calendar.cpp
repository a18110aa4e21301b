#include "exchange/calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>

namespace batten {
namespace {

// RFC 5545, 3.1: octets of a line without its end.
constexpr std::size_t longest_line = 75;

// Length of the character at the front by RFC 3629, table 3-7 of Unicode; 0: not sound.
std::size_t sound_length(std::string_view text) {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u;
  };
  const auto within = [&](std::size_t i, unsigned low, unsigned high) {
    return byte(i) >= low && byte(i) <= high;
  };
  const auto tail = [&](std::size_t i) { return within(i, 0x80, 0xBF); };
  const unsigned lead = byte(0);
  if (lead < 0x80) return 1;
  if (within(0, 0xC2, 0xDF)) return tail(1) ? 2 : 0;
  if (within(0, 0xE0, 0xEF)) {
    const unsigned low = lead == 0xE0 ? 0xA0 : 0x80, high = lead == 0xED ? 0x9F : 0xBF;
    return within(1, low, high) && tail(2) ? 3 : 0;
  }
  if (within(0, 0xF0, 0xF4)) {
    const unsigned low = lead == 0xF0 ? 0x90 : 0x80, high = lead == 0xF4 ? 0x8F : 0xBF;
    return within(1, low, high) && tail(2) && tail(3) ? 4 : 0;
  }
  return 0;
}

// What stands for one sound character in a TEXT value; controls but the tab are not allowed there.
std::string_view written(std::string_view character) {
  const auto first = static_cast<unsigned char>(character.front());
  switch (first) {
    case '\\':
      return "\\\\";
    case ';':
      return "\\;";
    case ',':
      return "\\,";
    case '\n':
      return "\\n";
    case '\t':
      return "\t";
    default:
      return first < 0x20 || first == 0x7F ? std::string_view{} : character;
  }
}

std::string escaped(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t length = sound_length(text);
    if (length == 0) {
      out += "\uFFFD";
      text.remove_prefix(1);
      continue;
    }
    // C1 controls, U+0080…U+009F, are no text either.
    const bool c1 = length == 2 && text[0] == '\xC2' && static_cast<unsigned char>(text[1]) < 0xA0;
    if (!c1) out += written(text.substr(0, length));
    text.remove_prefix(length);
  }
  return out;
}

class Lines {
 public:
  // `content` is escaped UTF-8. A continuation begins with a blank, which counts.
  void add(std::string_view content) {
    std::size_t room = longest_line;
    while (content.size() > room) {
      std::size_t cut = room;
      while (cut > 0 && (static_cast<unsigned char>(content[cut]) & 0xC0) == 0x80) --cut;
      text_ += content.substr(0, cut);
      text_ += "\r\n ";
      content.remove_prefix(cut);
      room = longest_line - 1;
    }
    text_ += content;
    text_ += "\r\n";
  }
  void text(std::string_view name, std::string_view language, std::string_view value) {
    if (value.empty()) return;
    std::string line(name);
    if (!language.empty()) line += fmt::format(";LANGUAGE={}", language);
    add(line + ":" + escaped(value));
  }
  std::string finish() { return std::move(text_); }

 private:
  std::string text_;
};

std::string date(std::chrono::sys_days day) {
  const std::chrono::year_month_day d(day);
  return fmt::format("{:04}{:02}{:02}", static_cast<int>(d.year()),
                     static_cast<unsigned>(d.month()), static_cast<unsigned>(d.day()));
}

std::string moment(std::int64_t ms) {
  using namespace std::chrono;
  const auto at = floor<seconds>(sys_time<milliseconds>(milliseconds(ms)));
  const hh_mm_ss clock(at - floor<std::chrono::days>(at));
  return fmt::format("{}T{:02}{:02}{:02}Z", date(floor<std::chrono::days>(at)),
                     clock.hours().count(), clock.minutes().count(), clock.seconds().count());
}

void write_event(Lines& lines, const CalendarEvent& event, const Calendar& calendar) {
  assert(event.day.ok());
  const std::chrono::sys_days first(event.day);
  lines.add("BEGIN:VEVENT");
  lines.text("UID", "", event.uid);
  lines.add("DTSTAMP:" + moment(calendar.stamp_ms));
  lines.add("DTSTART;VALUE=DATE:" + date(first));
  // The day after the last (3.6.1).
  lines.add("DTEND;VALUE=DATE:" + date(first + std::chrono::days(std::clamp(event.days, 1, 366))));
  lines.text("SUMMARY", calendar.language, event.summary);
  lines.text("DESCRIPTION", calendar.language, event.description);
  lines.text("LOCATION", "", event.place);
  lines.add("TRANSP:TRANSPARENT");
  if (event.remind_days_before) {
    lines.add("BEGIN:VALARM");
    lines.add("ACTION:DISPLAY");
    lines.add(fmt::format("TRIGGER:-P{}D", std::clamp(*event.remind_days_before, 0, 365)));
    // A displayed alarm must say something (3.6.6).
    lines.text("DESCRIPTION", calendar.language, event.summary.empty() ? "–" : event.summary);
    lines.add("END:VALARM");
  }
  lines.add("END:VEVENT");
}

}  // namespace

std::string next_visit_uid(const Uuid& piano) { return "next-visit-" + to_text(piano); }

std::string write_calendar(const Calendar& calendar) {
  Lines lines;
  lines.add("BEGIN:VCALENDAR");
  lines.add("VERSION:2.0");
  lines.add("PRODID:-//Batten//Batten//EN");
  lines.add("CALSCALE:GREGORIAN");
  // RFC 7986, 5.1, and what was used before it.
  lines.text("NAME", calendar.language, calendar.name);
  lines.text("X-WR-CALNAME", "", calendar.name);
  for (const CalendarEvent& event : calendar.events) write_event(lines, event, calendar);
  lines.add("END:VCALENDAR");
  return lines.finish();
}

}  // namespace batten

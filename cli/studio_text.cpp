#include "app/line_job.hpp"
#include "cli/plan_commands.hpp"
#include "cli/studio_commands.hpp"
#include "cli/terminal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten::cli {

namespace {

constexpr std::int64_t half_a_year_ms = 183 * 86'400'000LL;

std::string time_text(double minutes) {
  const auto whole = std::lround(minutes);
  return whole < 60 ? fmt::format("{} min", whole)
                    : fmt::format("{} h {:02} min", whole / 60, whole % 60);
}

std::string due_text(const StudioPiano& p) {
  switch (p.due) {
    case DueState::overdue:
      return "overdue";
    case DueState::due_at:
      return p.due_ms ? "due " + print_date(*p.due_ms) : "due";
    case DueState::beyond:
      return "not due within two years";
    case DueState::unknown:
      break;
  }
  return "not known: nothing has been read";
}

std::string detail_of(const StudioPiano& p) {
  std::string text;
  const auto add = [&](const std::string& part) { text += (text.empty() ? "" : ", ") + part; };
  if (p.last_done_ms) add("last worked on " + print_date(*p.last_done_ms));
  if (p.share_now)
    add(fmt::format("{:.0f} % expected outside tolerance today", 100 * *p.share_now));
  if (p.worst) add(fmt::format("worst: {}", kind_of(*p.worst).name));
  if (p.minutes) add("about " + time_text(*p.minutes));
  return text;
}

std::string place_of(const Piano& piano) {
  return piano.place.empty() ? std::string() : " · " + piano.place;
}

const char* why_text(StudioLeftOut::Why why) {
  switch (why) {
    case StudioLeftOut::Why::unread:
      return "nothing has been read there, so nothing is known of it";
    case StudioLeftOut::Why::not_due:
      return "not due within a month";
    case StudioLeftOut::Why::too_long:
      return "takes longer than there is";
    case StudioLeftOut::Why::less_worth:
      break;
  }
  return "the others set more right in the time";
}

const char* why_text(StudioStop::Why why) {
  switch (why) {
    case StudioStop::Why::fixed:
      return "promised";
    case StudioStop::Why::overdue:
      return "overdue";
    case StudioStop::Why::due:
      break;
  }
  return "due within a month";
}

}  // namespace

std::string studio_text(const StudioList& list, bool all) {
  if (list.pianos.empty())
    return "No piano yet. Add one with \"batten add\", or see \"batten demo\".";
  std::string text;
  int later = 0;
  for (const StudioPiano& p : list.pianos) {
    const bool far = p.due == DueState::beyond || (p.due == DueState::due_at && p.due_ms &&
                                                   *p.due_ms - list.now_ms > half_a_year_ms);
    if (far && !all && list.pianos.size() > 1) {
      ++later;
      continue;
    }
    const bool overdue = p.due == DueState::overdue;
    text += inked((overdue ? "! " : "  ") + p.piano.name, Ink::strong) + place_of(p.piano) + "\n";
    text += "    " + inked(due_text(p), overdue ? Ink::stop : Ink::plain) + "\n";
    if (const std::string detail = detail_of(p); !detail.empty()) text += wrapped(detail, "    ");
  }
  if (later > 0)
    text += fmt::format("\n{} more not due for half a year and longer: batten due --all\n", later);
  text += wrapped(fmt::format("Due is when more than {:.0f} % of what was read at the notes is "
                              "expected outside tolerance (return-limit).",
                              100 * list.limit),
                  "");
  return text;
}

std::string day_text(const StudioList& list, const StudioDay& day) {
  std::string text = fmt::format("A day of {}: {} used, going there and setting up included\n",
                                 time_text(60 * day.hours), time_text(day.minutes));
  if (day.stops.empty()) text += "  No piano is both due and doable in that time.\n";
  int number = 0;
  for (const StudioStop& s : day.stops) {
    const StudioPiano& p = list.pianos[s.piano];
    text += fmt::format("\n{:2}  {}{}\n", ++number, inked(p.piano.name, Ink::strong),
                        place_of(p.piano));
    std::string detail = fmt::format("{}; {} work, {} going there and setting up", why_text(s.why),
                                     time_text(s.minutes), time_text(s.between));
    if (p.worst) detail += fmt::format("; worst: {}", kind_of(*p.worst).name);
    text += wrapped(detail, "    ");
  }
  if (!day.left_out.empty()) text += "\nLeft out\n";
  for (const StudioLeftOut& l : day.left_out)
    text += wrapped(list.pianos[l.piano].piano.name + ": " + why_text(l.why), "    ");
  return text;
}

}  // namespace batten::cli

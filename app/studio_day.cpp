#include "app/handover_page.hpp"
#include "app/plan_job.hpp"
#include "app/studio_job.hpp"
#include "exchange/calendar.hpp"

#include <algorithm>
#include <cmath>

namespace batten {

namespace {

constexpr std::int64_t day_ms = 86'400'000, soon_ms = 30 * day_ms;
// A first look at a piano nobody has read (estimate, no source).
constexpr double minutes_of_unread = 90;

bool is_due(const StudioPiano& p, std::int64_t now) {
  return p.due == DueState::overdue ||
         (p.due == DueState::due_at && p.due_ms && *p.due_ms - now <= soon_ms);
}

std::chrono::year_month_day calendar_day(std::int64_t at_ms) {
  const CivilDay day = local_day(at_ms);
  return {std::chrono::year{day.year}, std::chrono::month{static_cast<unsigned>(day.month)},
          std::chrono::day{static_cast<unsigned>(day.day)}};
}

std::string day_in(Language language, std::int64_t at_ms) {
  const CivilDay day = local_day(at_ms);
  return date_in(language, day.year, day.month, day.day);
}

std::string description_of(const StudioPiano& p, std::int64_t now, Language language) {
  const auto percent = [&](double share) { return number_in(language, 100 * share, 0); };
  std::string text;
  if (p.due == DueState::overdue)
    text = say(language, "due.overdue", {{"share", percent(p.share_now.value_or(0))}});
  else
    text = say(
        language, "due.on",
        {{"share", percent(p.share_at_return.value_or(0))}, {"day", day_in(language, *p.due_ms)}});
  if (p.low_ms && p.high_ms)
    text += "\n" + say(language, "due.span",
                       {{"low", day_in(language, std::max(*p.low_ms, now))},
                        {"high", day_in(language, *p.high_ms)}});
  if (p.worst)
    text += "\n" + say(language, "due.worst", {{"reading", name_of(language, *p.worst)}});
  if (p.minutes)
    text += "\n" + say(language, "due.minutes",
                       {{"minutes", number_in(language, std::round(*p.minutes), 0)}});
  return text;
}

}  // namespace

std::string_view code_of(StudioStop::Why why) {
  switch (why) {
    case StudioStop::Why::fixed:
      return "fixed";
    case StudioStop::Why::overdue:
      return "overdue";
    case StudioStop::Why::due:
      break;
  }
  return "due";
}

std::string_view code_of(StudioLeftOut::Why why) {
  switch (why) {
    case StudioLeftOut::Why::unread:
      return "unread";
    case StudioLeftOut::Why::not_due:
      return "not-due";
    case StudioLeftOut::Why::too_long:
      return "too-long";
    case StudioLeftOut::Why::less_worth:
      break;
  }
  return "less-worth";
}

Result<StudioDay> studio_day(const StudioList& list, const DayRequest& request) {
  for (const Uuid& id : request.fixed)
    if (std::ranges::none_of(list.pianos, [&](const StudioPiano& p) { return p.piano.id == id; }))
      return problem("A piano that is promised is not in this store.", "Name one that is.");
  StudioDay out;
  out.hours = request.hours;
  std::vector<DayPiano> candidates;
  std::vector<std::size_t> index;
  for (std::size_t i = 0; i < list.pianos.size(); ++i) {
    const StudioPiano& p = list.pianos[i];
    const bool fixed = std::ranges::find(request.fixed, p.piano.id) != request.fixed.end();
    if (!fixed && !p.minutes)
      out.left_out.push_back({i, StudioLeftOut::Why::unread});
    else if (!fixed && !is_due(p, list.now_ms))
      out.left_out.push_back({i, StudioLeftOut::Why::not_due});
    else {
      candidates.push_back({p.minutes.value_or(minutes_of_unread), p.worth, fixed, p.piano.place});
      index.push_back(i);
    }
  }
  auto day = plan_day(candidates, {.minutes = 60 * request.hours});
  if (!day) return tl::unexpected(day.error());
  out.minutes = day->minutes;
  for (const DayStop& s : day->stops) {
    using Why = StudioStop::Why;
    const StudioPiano& p = list.pianos[index[s.piano]];
    const Why due = p.due == DueState::overdue ? Why::overdue : Why::due;
    const DayPiano& taken = candidates[s.piano];
    out.stops.push_back({index[s.piano], taken.minutes, s.between, taken.fixed ? Why::fixed : due});
  }
  for (const DayLeftOut& l : day->left_out)
    out.left_out.push_back({index[l.piano], l.why == DayLeftOut::Why::too_long
                                                ? StudioLeftOut::Why::too_long
                                                : StudioLeftOut::Why::less_worth});
  std::ranges::sort(out.left_out, {}, &StudioLeftOut::piano);
  return out;
}

Result<double> parse_hours(const std::string& text) {
  // A plain number is hours here; everything else as minutes are typed.
  const bool plain = text.find_first_not_of("0123456789., ") == std::string::npos;
  auto minutes = parse_minutes(plain ? text + " h" : text);
  if (!minutes)
    return problem("\"" + text + "\" is no number of hours to work.",
                   "Give hours above 0 and up to 24: 6, 6.5 or \"6 h 30\".");
  return *minutes / 60;
}

Result<std::string> due_calendar(const StudioList& list, Language language,
                                 const std::optional<Uuid>& of) {
  Calendar calendar;
  calendar.name = say(language, "due.calendar");
  calendar.language = std::string(code_of(language));
  calendar.stamp_ms = list.now_ms;
  for (const StudioPiano& p : list.pianos) {
    if (of && p.piano.id != *of) continue;
    const bool overdue = p.due == DueState::overdue;
    if (!overdue && !(p.due == DueState::due_at && p.due_ms)) continue;
    CalendarEvent event;
    event.uid = next_visit_uid(p.piano.id);
    event.day = calendar_day(overdue ? list.now_ms : *p.due_ms);
    event.summary = say(language, "due.summary", {{"piano", p.piano.name}});
    event.description = description_of(p, list.now_ms, language);
    event.place = p.piano.place;
    event.remind_days_before = 14;
    calendar.events.push_back(std::move(event));
  }
  if (of && calendar.events.empty())
    return problem("This piano is not due within two years, or nothing is known of it yet.",
                   "Read some notes of it, or lower its return-limit.");
  return write_calendar(calendar);
}

}  // namespace batten

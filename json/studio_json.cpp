#include "json/studio_json.hpp"

#include "app/line_job.hpp"
#include "json/journal_values.hpp"
#include "json/values.hpp"

#include <algorithm>
#include <cmath>

namespace batten {

namespace {

// Where the user is.
Json day_json(const std::optional<std::int64_t>& at_ms) {
  return at_ms ? Json(print_clock(*at_ms).substr(0, 10)) : Json(nullptr);
}

Json share_json(const std::optional<double>& share) {
  return share ? rounded(*share) : Json(nullptr);
}

Json minutes_json(const std::optional<double>& minutes) {
  return minutes ? Json(std::lround(*minutes)) : Json(nullptr);
}

Json due_json(const StudioPiano& p) {
  return {{"state", code_of(p.due)},
          {"date", day_json(p.due_ms)},
          {"low", day_json(p.low_ms)},
          {"high", day_json(p.high_ms)}};
}

Json named(const StudioPiano& p) {
  return {{"id", to_text(p.piano.id)}, {"name", p.piano.name}, {"place", p.piano.place}};
}

Json day_plan_json(const StudioList& list, const StudioDay& day) {
  Json j{{"hours", rounded(day.hours)},
         {"minutes_there_are", std::lround(60 * day.hours)},
         {"minutes_used", std::lround(day.minutes)}};
  j["stops"] = Json::array();
  for (const StudioStop& s : day.stops) {
    const StudioPiano& p = list.pianos[s.piano];
    Json one = named(p);
    one["minutes"] = std::lround(s.minutes);
    one["between_minutes"] = std::lround(s.between);
    one["worth"] = rounded(p.worth);
    one["fixed"] = s.why == StudioStop::Why::fixed;
    one["why"] = code_of(s.why);
    j["stops"].push_back(std::move(one));
  }
  j["left_out"] = Json::array();
  for (const StudioLeftOut& l : day.left_out) {
    Json one = named(list.pianos[l.piano]);
    one["minutes"] = minutes_json(list.pianos[l.piano].minutes);
    one["why"] = code_of(l.why);
    j["left_out"].push_back(std::move(one));
  }
  return j;
}

}  // namespace

std::string to_json(const StudioList& list, const std::optional<StudioDay>& day) {
  Json j{{"today", day_json(list.now_ms)}, {"limit", rounded(list.limit)}};
  j["pianos"] = Json::array();
  for (const StudioPiano& p : list.pianos) {
    Json one = named(p);
    one["visits"] = p.visits;
    one["last_done"] = day_json(p.last_done_ms);
    one["due"] = due_json(p);
    one["share_now"] = share_json(p.share_now);
    one["share_at_return"] = share_json(p.share_at_return);
    one["worst_reading"] = p.worst ? Json(kind_of(*p.worst).code) : Json(nullptr);
    one["minutes"] = minutes_json(p.minutes);
    j["pianos"].push_back(std::move(one));
  }
  j["day"] = day ? day_plan_json(list, *day) : Json(nullptr);
  return dumped_short(j);
}

std::string to_json(const std::vector<PianoSummary>& pianos, const StudioList& kept) {
  Json all = Json::array();
  for (const PianoSummary& p : pianos) {
    Json one = summary_json(p);
    const auto known = std::ranges::find_if(
        kept.pianos, [&](const StudioPiano& s) { return s.piano.id == p.piano.id; });
    const bool there = known != kept.pianos.end();
    one["due"] = there ? due_json(*known) : Json(nullptr);
    one["last_done"] = there ? day_json(known->last_done_ms) : Json(nullptr);
    all.push_back(std::move(one));
  }
  return dumped({{"pianos", all}});
}

}  // namespace batten

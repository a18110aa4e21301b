#include "json/drift_json.hpp"

#include "app/line_job.hpp"
#include "json/values.hpp"

namespace batten {

namespace {

Json moment(const std::optional<std::int64_t>& at_ms) {
  return at_ms ? Json(print_timestamp(*at_ms)) : Json(nullptr);
}

Json maybe(const std::optional<double>& value) { return value ? rounded(*value) : Json(nullptr); }

Json points_json(const std::vector<OutlookPoint>& points) {
  Json list = Json::array();
  for (const OutlookPoint& p : points)
    list.push_back({{"day", rounded(p.day)},
                    {"at", print_timestamp(p.at_ms)},
                    {"share", rounded(p.share)},
                    {"low", rounded(p.low)},
                    {"high", rounded(p.high)},
                    {"chance_over_limit", rounded(p.chance_over_limit)}});
  return list;
}

Json due_json(const OutlookDue& due) {
  return {{"state", code_of(due.state)}, {"day", maybe(due.day)},
          {"at", moment(due.at_ms)},     {"low_day", maybe(due.low_day)},
          {"low", moment(due.low_ms)},   {"high_day", maybe(due.high_day)},
          {"high", moment(due.high_ms)}};
}

Json grounds_json(const OutlookGrounds& g) {
  return {{"visits", g.visits},
          {"pairs", g.pairs},
          {"humidities", g.humidities},
          {"learned", rounded(g.learned)},
          {"new_felt_known", g.new_felt_known},
          {"playing_hours_known", g.playing_hours_known},
          {"climate_known", g.climate_known}};
}

Json reading_json(const OutlookReading& r) {
  Json causes = Json::array();
  for (const OutlookCause& c : r.causes)
    causes.push_back({{"cause", code_of(c.cause)},
                      {"mean", rounded(c.mean)},
                      {"sd", rounded(c.sd)},
                      {"own_sd", rounded(c.own_sd)}});
  return {{"reading", kind_of(r.reading).code},
          {"unit", unit_symbol(kind_of(r.reading).unit)},
          {"tolerance", rounded(r.tolerance)},
          {"notes", r.notes},
          {"pairs", r.pairs},
          {"outside_now", rounded(r.outside_now)},
          {"causes", std::move(causes)},
          {"points", points_json(r.points)},
          {"due", due_json(r.due)}};
}

}  // namespace

std::string to_json(const Piano& piano, const Outlook& o, std::int64_t revision) {
  Json readings = Json::array();
  for (const OutlookReading& r : o.readings) readings.push_back(reading_json(r));
  return dumped({{"revision", revision},
                 {"piano", {{"id", to_text(piano.id)}, {"name", piano.name}}},
                 {"from", print_timestamp(o.from_ms)},
                 {"last_work", moment(o.last_work_ms)},
                 {"limit", rounded(o.limit)},
                 {"months", o.months},
                 {"share_now", rounded(o.notes_outside_now)},
                 {"known", o.known},
                 {"points", points_json(o.points)},
                 {"due", due_json(o.due)},
                 {"known_from", grounds_json(o.known_from)},
                 {"readings", std::move(readings)}});
}

std::string to_json(const FirstChecks& f, std::int64_t revision) {
  Json checks = Json::array();
  for (const FirstCheck& c : f.checks) {
    Json notes = Json::array();
    for (const Key key : c.notes) notes.push_back(note_name(key));
    checks.push_back({{"reading", kind_of(c.reading).code},
                      {"unit", unit_symbol(kind_of(c.reading).unit)},
                      {"change", rounded(c.change)},
                      {"sd", rounded(c.sd)},
                      {"in_tolerances", rounded(c.in_tolerances)},
                      {"newly_outside", rounded(c.newly_outside)},
                      {"notes", std::move(notes)}});
  }
  return dumped({{"revision", revision},
                 {"after", code_of(f.spell)},
                 {"moisture", rounded(f.moisture)},
                 {"hours", rounded(f.hours)},
                 {"checks", std::move(checks)},
                 {"listed", f.listed},
                 {"listed_is_ours", f.listed_is_ours},
                 {"known_from", grounds_json(f.known_from)}});
}

}  // namespace batten

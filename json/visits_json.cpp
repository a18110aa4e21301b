#include "json/visits_json.hpp"

#include "app/line_job.hpp"
#include "json/values.hpp"

#include <cmath>

namespace batten {

namespace {

std::string_view unit_of(MoveUnit unit) {
  switch (unit) {
    case MoveUnit::turns:
      return "turns";
    case MoveUnit::millimetres:
      return "mm";
    case MoveUnit::bend_steps:
      return "steps";
  }
  return "";
}

Json value_or_null(const std::optional<double>& value) {
  return value ? rounded(*value) : Json(nullptr);
}

Json visit_json(const VisitOnRecord& v) {
  return {{"id", to_text(v.visit.id)},
          {"title", v.visit.title},
          {"begun", print_timestamp(v.visit.begun_ms)},
          {"last_at", v.last_ms ? Json(print_timestamp(*v.last_ms)) : Json(nullptr)},
          {"who", v.who},
          {"readings", v.readings},
          {"moves", v.moves},
          {"humidity", value_or_null(v.humidity)},
          {"temperature", value_or_null(v.temperature)}};
}

Json shift_json(const Shift& s) {
  return {{"section", s.section ? Json(*s.section) : Json(nullptr)},
          {"first", note_name(s.first)},
          {"last", note_name(s.last)},
          {"notes", s.notes},
          {"mean", rounded(s.mean)},
          {"error", rounded(s.error)},
          {"spread", value_or_null(s.spread)},
          {"chance", number(s.chance)},
          {"beyond_noise", s.beyond_noise},
          {"spread_beyond_noise", s.spread_beyond_noise}};
}

Json shifts_json(const std::vector<Shift>& shifts) {
  Json list = Json::array();
  for (const Shift& s : shifts) list.push_back(shift_json(s));
  return list;
}

Json differences_json(const std::vector<NoteDifference>& notes) {
  Json list = Json::array();
  for (const NoteDifference& n : notes)
    list.push_back(
        {{"note", note_name(n.key)}, {"value", rounded(n.value)}, {"sd", rounded(n.sd)}});
  return list;
}

Json reading_json(const ReadingCompared& r) {
  return {{"reading", kind_of(r.reading).code},
          {"unit", unit_symbol(kind_of(r.reading).unit)},
          {"tolerance", rounded(r.tolerance)},
          {"neighbour_tolerance", rounded(r.neighbour_tolerance)},
          {"adjuster", kind_of(r.adjuster).code},
          {"by_itself", shifts_json(r.by_itself)},
          {"changed", shifts_json(r.changed)},
          {"notes_by_itself", differences_json(r.alone)},
          {"notes_changed", differences_json(r.worked)}};
}

// What its reading did before anybody turned it; null where nobody read it in both visits.
const Shift* alone(const VisitsCompared& compared, Reading reading) {
  for (const ReadingCompared& r : compared.readings)
    if (r.reading == reading && !r.by_itself.empty()) return &r.by_itself.front();
  return nullptr;
}

Json adjuster_json(const AdjusterCompared& a, const VisitsCompared& compared) {
  Json registers = Json::array();
  for (const RegisterMoves& r : a.by_register)
    registers.push_back({{"first", note_name(r.first)},
                         {"last", note_name(r.last)},
                         {"moves", r.moves},
                         {"notes", r.notes},
                         {"mean", rounded(r.mean)}});
  const Shift* moved = alone(compared, a.reading);
  return {{"adjuster", kind_of(a.adjuster).code},
          {"unit", unit_of(kind_of(a.adjuster).unit)},
          {"reading", kind_of(a.reading).code},
          {"moves", a.moves},
          {"notes", a.notes},
          {"positive", rounded(a.positive)},
          {"negative", rounded(a.negative)},
          {"by_register", registers},
          {"by_itself", moved != nullptr ? rounded(moved->mean) : Json(nullptr)},
          {"by_itself_error", moved != nullptr ? rounded(moved->error) : Json(nullptr)},
          {"by_itself_beyond", moved != nullptr && moved->beyond_noise}};
}

}  // namespace

std::string visits_to_json(const Piano& piano, const std::vector<VisitOnRecord>& visits,
                           std::int64_t revision) {
  Json list = Json::array();
  for (const VisitOnRecord& v : visits) list.push_back(visit_json(v));
  return dumped({{"revision", revision}, {"piano", piano.name}, {"visits", list}});
}

std::string to_json(const Piano& piano, const ComparedVisits& visits, std::int64_t revision) {
  Json readings = Json::array(), adjusters = Json::array();
  for (const ReadingCompared& r : visits.compared.readings) readings.push_back(reading_json(r));
  for (const AdjusterCompared& a : visits.compared.adjusters)
    adjusters.push_back(adjuster_json(a, visits.compared));
  constexpr double ms_per_day = 86'400'000;
  const double days =
      static_cast<double>(visits.to.visit.begun_ms - visits.from.visit.begun_ms) / ms_per_day;
  return dumped({{"revision", revision},
                 {"piano", piano.name},
                 {"from", visit_json(visits.from)},
                 {"to", visit_json(visits.to)},
                 {"days", std::lround(days)},
                 {"visits_between", visits.between},
                 {"looks", visits.compared.looks},
                 {"method", "benjamini-hochberg"},
                 {"false_finding_rate", false_finding_rate},
                 {"readings", readings},
                 {"adjusters", adjusters}});
}

}  // namespace batten

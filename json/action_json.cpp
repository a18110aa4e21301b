#include "json/action_json.hpp"

#include "core/action/words.hpp"
#include "json/values.hpp"

#include <cmath>

namespace batten {

namespace {

using action::adjuster_words;
using action::Readings;
using action::row_words;
using action::Stroke;

constexpr double gram_force = 9.80665e-3;

// "let_off_mm", "down_weight_gf", "damper_start" (0…1), "spring_rise_mm_s"
std::string key_of(std::string_view code, std::string_view unit) {
  std::string key(code);
  for (char& c : key)
    if (c == '-') c = '_';
  if (unit == "mm/s") return key + "_mm_s";
  if (unit == "%") return key;
  return key + "_" + std::string(unit);
}
double shown(const action::RowWords& w, double si) { return w.unit == "%" ? si : si / w.unit_si; }

Json readings_json(const Readings& r) {
  Json j;
  for (const auto& w : row_words()) j[key_of(w.code, w.unit)] = number(shown(w, r.*w.member));
  j["spring_grade"] = r.spring_grade;
  j["rest_scatter_mm"] = number(1e3 * r.rest_scatter);
  j["ratio_at_rest"] = number(r.ratio_start);
  j["ratio_before_let_off"] = number(r.ratio_end);
  j["ratio_mean"] = number(r.ratio_mean);
  j["ratio_identity"] = number(r.ratio_identity);
  j["faults"] = Json::array();
  for (const action::Fault f : r.faults) {
    const auto& w = words_of(f);
    j["faults"].push_back(
        {{"fault", w.code}, {"happened", w.name}, {"todo", w.todo}, {"may_break", w.may_break}});
  }
  return j;
}

Json adjustments_json(const action::Adjustments& a) {
  Json j;
  for (std::size_t i = 0; i < action::adjustment_count; ++i) {
    const auto& w = adjuster_words()[i];
    const double value = a.*action::adjustment_members[i];
    if (w.unit == "mm")
      j[key_of(w.code, "mm")] = number(1e3 * value);
    else
      j[key_of(w.code, "%")] = number(value);
  }
  return j;
}

Json influence_json(const action::Influence& influence) {
  Json rows = Json::array();
  for (const auto& w : row_words()) {
    Json by = Json::object();
    for (std::size_t a = 0; a < action::adjustment_count; ++a) {
      const auto i = static_cast<std::size_t>(w.row);
      const double unit = adjuster_words()[a].unit_si;
      by[std::string(adjuster_words()[a].code)] = {
          {"value", number(shown(w, influence.value[i][a] * unit))},
          {"error", number(shown(w, influence.error[i][a] * unit))}};
    }
    rows.push_back({{"reading", w.code}, {"unit", w.unit == "%" ? "" : w.unit}, {"by", by}});
  }
  return {{"per", "mm at the part; repetition-spring: a tenth of its strength"}, {"rows", rows}};
}

Json head(const std::string& called, const ActionView& view) {
  return {{"called", called},
          {"profile", view.file.profile.name},
          {"note", note_name(view.prepared.key)},
          {"key", view.prepared.key.number},
          {"regulated", view.prepared.regulated.reached}};
}

Json stroke_json(const NamedStroke& named) {
  const Stroke& s = named.stroke;
  const auto since = [&](double at) { return number(1e3 * (at - s.key_start)); };
  Json j{{"effort", named.effort},
         {"hammer_speed_m_s", number(s.hammer_speed)},
         {"key_speed_m_s", number(s.key_speed)},
         {"finger_force_N", number(s.finger_force)},
         {"string_force_N", number(s.string_force)},
         {"events_ms",
          {{"let_off", since(s.let_off)},
           {"string", since(s.string)},
           {"key_bottom", since(s.key_bottom)},
           {"check", since(s.check)},
           {"jack_return", since(s.jack_return)}}},
         {"free_flight_ms", number(1e3 * s.free_flight)},
         {"travel_time_ms", number(1e3 * s.travel_time)},
         {"contact_time_ms", number(1e3 * s.contact_time)},
         {"check_distance_mm", number(1e3 * s.check_distance)},
         {"energy_mJ",
          {{"finger_work", number(1e3 * s.finger_work)},
           {"hammer", number(1e3 * s.hammer_energy)},
           {"key", number(1e3 * s.key_energy)},
           {"rest", number(1e3 * s.rest_energy)},
           {"lost", number(1e3 * s.lost_energy)}}},
         {"struck_twice", s.struck_twice}};
  return j;
}

}  // namespace

std::string to_json(const std::string& called, const ActionView& view,
                    const action::Influence& influence) {
  Json j = head(called, view);
  j["readings"] = readings_json(view.readings);
  if (view.changed) {
    j["regulated_readings"] = readings_json(view.regulated_readings);
    j["moved"] = adjustments_json(view.changes);
  }
  j["adjustments"] = adjustments_json(view.note.adjustments);
  j["influence"] = influence_json(influence);
  Json down = Json::array(), up = Json::array();
  for (auto [trace, list] : {std::pair{&view.readings.down, &down}, {&view.readings.up, &up}})
    for (const auto& p : *trace)
      list->push_back({number(1e3 * p.depth), number(p.force / gram_force), number(1e3 * p.below)});
  j["press"] = {
      {"columns", {"depth_mm", "force_gf", "crown_below_string_mm"}}, {"down", down}, {"up", up}};
  return dumped(j);
}

std::string to_json(const std::string& called, const ActionView& view, const StrokeRequest& request,
                    const std::vector<NamedStroke>& strokes) {
  Json j = head(called, view);
  j["touch"] = request.touch;
  if (view.changed) j["moved"] = adjustments_json(view.changes);
  j["strokes"] = Json::array();
  for (const NamedStroke& s : strokes) j["strokes"].push_back(stroke_json(s));
  return dumped(j);
}

std::string profiles_to_json() {
  Json list = Json::array();
  for (const StoredProfile& p : stored_profiles())
    if (auto file = parse_profile(p.text, p.name))
      list.push_back(
          {{"name", p.name}, {"description", file->description}, {"source", file->profile.source}});
  return dumped({{"profiles", list}});
}

}  // namespace batten

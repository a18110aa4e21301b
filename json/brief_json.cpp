#include "json/brief_json.hpp"

#include "core/action/words.hpp"
#include "core/regulation/aims/aim.hpp"
#include "core/regulation/brief/words.hpp"
#include "json/values.hpp"

#include <array>
#include <cmath>
#include <iterator>
#include <string>
#include <vector>

namespace batten {

namespace {

Json figures_json(const BriefFigures& f) {
  Json j{{"works", f.works()},
         {"blow_mm", number(f.point.blow)},
         {"dip_mm", number(f.point.dip)},
         {"let_off_mm", number(f.point.let_off)},
         {"drop_mm", number(f.point.drop)},
         {"escape_margin_mm", number(f.escape_margin)},
         {"aftertouch_mm", number(f.aftertouch)},
         {"check_distance_mm", number(f.check_distance)},
         {"jack_clearance_mm", number(f.jack_clearance)},
         {"ratio", number(f.ratio)},
         {"rest_scatter_mm", number(f.rest_scatter)},
         {"hindrance", f.hindrance},
         {"reached", f.reached},
         {"read", f.read},
         {"lever_share", number(f.lever_share)},
         {"lost_motion_mm", number(f.lost_motion)},
         {"spring_grade", f.spring_grade}};
  j["misses"] = Json::array();
  for (const Miss& m : f.misses)
    j["misses"].push_back({{"need", need_kinds()[index_of(m.need)].code},
                           {"value_mm", number(m.value)},
                           {"by_mm", number(m.by)}});
  j["faults"] = Json::array();
  for (const action::Fault fault : f.faults) j["faults"].push_back(action::words_of(fault).code);
  j["strokes"] = Json::array();
  const char* efforts[] = {"soft", "middling", "loud"};
  for (std::size_t i = 0; i < f.strokes.size(); ++i)
    j["strokes"].push_back({{"effort", efforts[i]},
                            {"hammer_speed_m_s", number(f.strokes[i].hammer_speed)},
                            {"travel_time_ms", number(f.strokes[i].travel_time)},
                            {"bottom_less_string_ms", number(f.strokes[i].bottom_less_string)}});
  return j;
}

Json point_json(const BriefPoint& p) {
  return {{"blow_mm", number(p.blow)},
          {"dip_mm", number(p.dip)},
          {"let_off_mm", number(p.let_off)},
          {"drop_mm", number(p.drop)}};
}

Json band_json(const Band& band) {
  return {
      {"low_mm", number(band.low)}, {"high_mm", number(band.high)}, {"on_record", band.on_record}};
}

Json bands_json(const std::array<Band, need_count>& bands) {
  Json j = Json::object();
  for (const NeedKind& kind : need_kinds())
    j[std::string(kind.code)] = band_json(bands[index_of(kind.id)]);
  return j;
}

// By the setting's name, taper by section; those of sharps where they are a setting of their own.
Json targets_json(const Targets& targets) {
  Json j = Json::array();
  const auto add = [&](Aim aim, const std::vector<Taper>& tapers, Key key) {
    const ReadingKind& kind = kind_of(reading_of(aim, key));
    Json one{{"setting", std::string(kind.code) + "-target"},
             {"reading", kind.code},
             {"unit", unit_symbol(kind.unit)}};
    one["tapers"] = Json::array();
    for (const Taper& t : tapers)
      one["tapers"].push_back({{"at_first", number(t.at_first)}, {"at_last", number(t.at_last)}});
    j.push_back(std::move(one));
  };
  constexpr Key natural{40}, sharp{41};  // C4, C#4: any of each
  for (const Aim aim : all_aims) {
    add(aim, targets.naturals[index_of(aim)], natural);
    if (reading_of(aim, natural) != reading_of(aim, sharp))
      add(aim, targets.sharps[index_of(aim)], sharp);
  }
  return j;
}

Json column_json(const BriefMap& map, const auto& value) {
  Json j = Json::array();
  for (const MapPoint& p : map.points) {
    // Thousandths: finer than any hand, and a third of the bytes.
    const double v = value(p);
    j.push_back(number(std::round(v * 1e3) / 1e3));
  }
  return j;
}

}  // namespace

std::string to_json(const Piano& piano, const BriefOutline& outline) {
  Json j{{"piano", piano.name},
         {"profile", outline.profile},
         {"profile_chosen", outline.profile_chosen}};
  j["registers"] = Json::array();
  for (const Register& r : outline.registers)
    j["registers"].push_back(
        {{"register", r.name}, {"note", note_name(r.key)}, {"sharp", is_sharp(r.key)}});
  j["sections"] = Json::array();
  for (const Section& s : outline.targets.sections)
    j["sections"].push_back({{"first", note_name(s.first)}, {"last", note_name(s.last)}});
  j["targets"] = targets_json(outline.targets);
  j["needs"] = Json::array();
  for (const NeedKind& kind : need_kinds()) {
    Json one = band_json(outline.wishes.at(kind.id));
    one["need"] = kind.code;
    one["possible_low_mm"] = kind.possible_low;
    one["possible_high_mm"] = kind.possible_high;
    j["needs"].push_back(std::move(one));
  }
  j["wants"] = Json::array();
  for (const WantKind& kind : want_kinds())
    j["wants"].push_back({{"want", kind.code},
                          {"weight", outline.wishes.at(kind.id)},
                          {"usual_weight", kind.weight},
                          {"unit", kind.unit},
                          {"unit_size", kind.unit_size}});
  j["accepted"] = Json::array();
  for (const Acceptance& a : outline.accepted) {
    Json one{{"at_ms", a.at_ms}, {"who", a.who}, {"because", a.because}};
    one["settings"] = Json::array();
    for (const SettingChosen& s : a.settings)
      one["settings"].push_back({{"name", s.name}, {"value", s.value}});
    j["accepted"].push_back(std::move(one));
  }
  return dumped(j);
}

std::string to_json(const Piano& piano, const PianoMap& found) {
  const BriefMap& m = found.map;
  Json j{{"piano", piano.name},
         {"profile", found.profile},
         {"profile_chosen", found.profile_chosen},
         {"register", m.where.name},
         {"note", note_name(m.where.key)},
         {"blow_low_mm", m.axes.blow_low},
         {"blow_high_mm", m.axes.blow_high},
         {"blows", m.axes.blows},
         {"dip_low_mm", m.axes.dip_low},
         {"dip_high_mm", m.axes.dip_high},
         {"dips", m.axes.dips},
         {"sheet", point_json(m.sheet)},
         {"today", m.today ? point_json(*m.today) : Json(nullptr)},
         {"against", m.today ? "today" : "sheet"},
         {"aftertouch", band_json(m.aftertouch)},
         {"base",
          {{"travel_ms", number(m.base_travel)},
           {"soft_ms", number(m.base_bottom_less_string[0])},
           {"middling_ms", number(m.base_bottom_less_string[1])},
           {"loud_ms", number(m.base_bottom_less_string[2])}}},
         {"errors",
          {{"margin_mm", number(m.margin_error)},
           {"timing_ms", number(m.timing_error)},
           {"power_percent", number(m.power_error)},
           {"travel_ms", number(m.travel_error)}}}};
  j["escape_margin_mm"] = column_json(m, [](const MapPoint& p) { return p.escape_margin; });
  const char* efforts[] = {"bottom_less_string_soft_ms", "bottom_less_string_middling_ms",
                           "bottom_less_string_loud_ms"};
  for (std::size_t e = 0; e < std::size(efforts); ++e)
    j[efforts[e]] = column_json(m, [e](const MapPoint& p) { return p.bottom_less_string[e]; });
  j["power_percent"] = column_json(m, [](const MapPoint& p) { return p.power; });
  j["travel_ms"] = column_json(m, [](const MapPoint& p) { return p.travel; });
  // Added: 1 no escapement, 2 aftertouch thin, 4 fat, 8 the tail touches the check, 16 no setting
  // is found.
  j["faults"] = Json::array();
  for (const MapPoint& p : m.points) j["faults"].push_back(p.faults);
  return j.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string to_json(const Piano& piano, const PianoBrief& b) {
  Json j{{"piano", piano.name},
         {"profile", b.profile},
         {"profile_chosen", b.profile_chosen},
         {"works", b.brief.works()},
         {"words", brief_words(b.brief)}};
  j["registers"] = Json::array();
  for (const RegisterBrief& r : b.brief.registers) {
    Json one{{"register", r.where.name},
             {"note", note_name(r.where.key)},
             {"sharp", is_sharp(r.where.key)},
             {"bands", bands_json(r.bands)},
             {"sheet", figures_json(r.sheet)},
             {"today", r.today ? figures_json(*r.today) : Json(nullptr)}};
    one["words"] = verdict_words(r);
    one["departures"] = Json::array();
    for (const Departure& d : r.departures)
      one["departures"].push_back({{"way", name_of(d.way)},
                                   {"code", code_of(d.way)},
                                   {"words", departure_words(d)},
                                   {"blow_by_mm", number(d.by.blow)},
                                   {"dip_by_mm", number(d.by.dip)},
                                   {"let_off_by_mm", number(d.by.let_off)},
                                   {"drop_by_mm", number(d.by.drop)},
                                   {"cost", number(d.cost)},
                                   {"power_percent", number(d.price.power)},
                                   {"travel_ms", number(d.price.travel)},
                                   {"timing_ms", number(d.price.timing)},
                                   {"repetition_ms", number(d.price.repetition)},
                                   {"aftertouch_mm", number(d.price.aftertouch)},
                                   {"figures", figures_json(d.figures)}});
    one["unmet"] = Json::array();
    for (const Unmet& u : r.unmet)
      one["unmet"].push_back({{"need", need_kinds()[index_of(u.need)].code},
                              {"nearest_mm", number(u.nearest)},
                              {"by_mm", number(u.by)},
                              {"at", point_json(u.at)},
                              {"words", unmet_words(u, r)}});
    j["registers"].push_back(std::move(one));
  }
  return dumped(j);
}

}  // namespace batten

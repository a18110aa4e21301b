#include "json/brief_json.hpp"

#include "core/regulation/brief/words.hpp"
#include "json/values.hpp"

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
         {"hindrance", f.hindrance}};
  j["strokes"] = Json::array();
  const char* efforts[] = {"soft", "middling", "loud"};
  for (std::size_t i = 0; i < f.strokes.size(); ++i)
    j["strokes"].push_back({{"effort", efforts[i]},
                            {"hammer_speed_m_s", number(f.strokes[i].hammer_speed)},
                            {"travel_time_ms", number(f.strokes[i].travel_time)},
                            {"bottom_less_string_ms", number(f.strokes[i].bottom_less_string)}});
  return j;
}

}  // namespace

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
             {"sheet", figures_json(r.sheet)},
             {"today", r.today ? figures_json(*r.today) : Json(nullptr)}};
    one["words"] = verdict_words(r);
    one["departures"] = Json::array();
    for (const Departure& d : r.departures)
      one["departures"].push_back({{"way", name_of(d.way)},
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
                              {"words", unmet_words(u, r)}});
    j["registers"].push_back(std::move(one));
  }
  return dumped(j);
}

}  // namespace batten

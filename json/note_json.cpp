#include "json/note_json.hpp"

#include "core/action/words.hpp"
#include "json/values.hpp"

#include <cmath>
#include <map>

namespace batten {

namespace {

using action::Posture;
using action::Readings;
using action::row_words;
using action::SweepPoint;

constexpr double gram_force = 9.80665e-3;

// Shorter to send, and finer than a screen can show.
Json rounded(double value, double parts) { return number(std::round(value * parts) / parts); }
Json millimetres(double m) { return rounded(1e3 * m, 1e3); }
Json angle(double rad) { return rounded(rad, 1e6); }

// The model's row under the code the note's reading is filed by; the spring's rise as its grade.
std::string code_of(const action::RowWords& w, Key key) {
  if (w.row == action::Row::dip) return std::string(kind_of(reading_of(Aim::dip, key)).code);
  return std::string(w.code);
}
Json value_of(const action::RowWords& w, const Readings& r) {
  const double si = r.*w.member;
  if (w.row == action::Row::spring_rise) return std::isfinite(si) ? Json(r.spring_grade) : Json();
  if (w.unit == "%") return rounded(si, 1e4);
  return rounded(si / w.unit_si, 1e4);
}
std::string_view unit_of(const action::RowWords& w) {
  if (w.row == action::Row::spring_rise) return "grade";
  return w.unit == "%" ? "" : w.unit;
}

Json readings_json(const Readings& r, Key key) {
  Json j = Json::object();
  for (const auto& w : row_words()) j[code_of(w, key)] = value_of(w, r);
  j["ratio"] = rounded(r.ratio_mean, 1e4);
  return j;
}

Json faults_json(const Readings& r) {
  Json list = Json::array();
  for (const action::Fault f : r.faults) {
    const auto& w = words_of(f);
    list.push_back(
        {{"fault", w.code}, {"happened", w.name}, {"todo", w.todo}, {"may_break", w.may_break}});
  }
  return list;
}

Json read_json(const NoteBench& bench, Reading reading) {
  const Standing& now = bench.plan->standing;
  for (auto e = now.readings.rbegin(); e != now.readings.rend(); ++e) {
    const auto& taken = std::get<ReadingTaken>(e->content);
    if (taken.reading == reading && taken.note == bench.prepared.key)
      return {{"value", number(taken.value)},
              {"sd", number(taken.uncertainty)},
              {"at", print_timestamp(e->at_ms)},
              {"entry", to_text(e->id)}};
  }
  return nullptr;
}

// The aim a row of the model tells of, if any; of the key's height the model knows only the rise
// over its drawing.
std::optional<Aim> aim_of_row(const action::RowWords& w) {
  const auto reading = reading_by_code(w.code);
  if (!reading || w.row == action::Row::key_height) return std::nullopt;
  return aim_of(*reading);
}

Json reading_rows_json(const NoteBench& bench) {
  const Situation& s = bench.plan->plan.situation;
  const Key key = bench.prepared.key;
  const NoteState& state = s.at(key);
  Json list = Json::array();
  for (const auto& w : row_words()) {
    const auto aim = aim_of_row(w);
    const auto plain = reading_by_code(w.code);
    Json j{{"code", code_of(w, key)},
           {"unit", unit_of(w)},
           {"decimals", w.decimals},
           {"at_targets", value_of(w, bench.at_targets)},
           {"at_believed", value_of(w, bench.at_believed)},
           {"target", nullptr},
           {"tolerance", nullptr},
           {"believed", nullptr},
           {"believed_sd", nullptr},
           {"read", nullptr}};
    if (aim) {
      const Reading reading = reading_of(*aim, key);
      if (const auto t = wanted(s, bench.plan->model, key, *aim)) j["target"] = number(*t);
      if (const auto t = s.catalogue.tolerance(reading)) j["tolerance"] = number(t->absolute);
      if (state.read[index_of(*aim)]) {
        j["believed"] = rounded(state.at(*aim), 1e4);
        j["believed_sd"] = rounded(state.sd(*aim), 1e4);
      }
      j["read"] = read_json(bench, reading);
    } else if (plain && w.row != action::Row::key_height) {
      j["read"] = read_json(bench, *plain);
    }
    list.push_back(std::move(j));
  }
  return list;
}

Json sliders_json(const NoteBench& bench) {
  Json list = Json::array();
  for (const Slider& s : sliders_of(bench)) {
    const AdjusterKind& kind = kind_of(s.adjuster);
    Json j{{"code", kind.code},
           {"unit", s.percent ? "%" : "mm"},
           {"most", rounded(s.most, 1e3)},
           {"step", rounded(s.step, 1e3)},
           {"sets", kind_of(kind.sets).code},
           {"move_unit", unit_name(kind.unit)},
           {"per_move", rounded(s.per_move, 1e4)},
           {"pending", nullptr},
           {"pending_amount", nullptr}};
    if (s.pending) {
      const double moved = *s.pending * s.per_move;
      j["pending"] = rounded(std::fmax(-s.most, std::fmin(s.most, moved)), 1e3);
      j["pending_amount"] = number(*s.pending);
    }
    list.push_back(std::move(j));
  }
  return list;
}

Json problem_json(const std::optional<Problem>& p) {
  if (!p) return nullptr;
  return {{"happened", p->happened}, {"kept", p->kept}, {"todo", p->todo}};
}

// [depth mm, crown below the string mm, gf, then x mm, y mm, rad of every part]: a point of a part
// at p in the layout stands at (x, y) + p turned by the angle.
Json frame_json(const Posture& p) {
  Json j =
      Json::array({millimetres(p.depth), millimetres(p.below), rounded(p.force / gram_force, 100)});
  for (int part = 0; part < action::part_count; ++part) {
    const Point at = action::moved(p, part, {0, 0});
    j.push_back(millimetres(at.x));
    j.push_back(millimetres(at.y));
    j.push_back(angle(action::turned(p, part)));
  }
  return j;
}

Json shapes_json(const std::vector<ShapeGroup>& groups) {
  Json list = Json::array();
  for (const ShapeGroup& group : groups) {
    Json shapes = Json::array();
    for (const Shape& s : group.shapes) {
      Json points = Json::array();
      for (const Point p : s.points) {
        points.push_back(millimetres(p.x));
        points.push_back(millimetres(p.y));
      }
      const char* kinds[] = {"polygon", "disc", "line"};
      Json j{{"kind", kinds[static_cast<std::size_t>(s.kind)]},
             {"part", s.part},
             {"style", s.style},
             {"points", std::move(points)}};
      if (s.kind == Shape::Kind::disc) j["radius"] = millimetres(s.radius);
      shapes.push_back(std::move(j));
    }
    list.push_back({{"code", group.code}, {"shapes", std::move(shapes)}});
  }
  return list;
}

// Points that names and measures hang on: [part, x mm, y mm] in the layout.
Json points_json(const Posture& p) {
  const action::Layout& l = p.layout;
  Json j = Json::object();
  const auto add = [&](const char* code, int part, Point at) {
    j[code] = {part, millimetres(at.x), millimetres(at.y)};
  };
  add("crown", action::head, l.crown);
  add("tail", action::head, l.tail);
  add("head", action::head, l.head_centre);
  add("knuckle", action::shank, l.knuckle);
  add("hammer-pin", mechanism::ground, l.hammer_pin);
  add("wippen-pin", mechanism::ground, l.wippen_pin);
  add("jack-top", action::jack, l.jack_top);
  add("jack-pin", action::jack, l.jack_pin);
  add("toe", action::jack, l.toe);
  add("button", mechanism::ground, l.button);
  add("drop", mechanism::ground, l.drop);
  add("lever-tip", action::lever, l.lever_tip);
  add("lever-pin", action::lever, l.lever_pin);
  add("heel", action::wippen, l.heel);
  add("capstan", action::key_rear, l.capstan);
  add("check", action::key_rear, l.check);
  add("balance", mechanism::ground, l.balance);
  add("front-punching", mechanism::ground, l.front_punching);
  add("key-front", action::key_front, {-p.note.dimensions.key_front, key_thickness});
  add("shank-gap", action::shank, l.cushion);
  return j;
}

Json press_json(const std::vector<SweepPoint>& rows, std::size_t every) {
  Json list = Json::array();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (i % every != 0 && i + 1 != rows.size()) continue;
    list.push_back(millimetres(rows[i].depth));
    list.push_back(rounded(rows[i].force / gram_force, 10));
    list.push_back(millimetres(rows[i].below));
  }
  return list;
}

const char* code_of(NoteStart start) {
  return start == NoteStart::believed ? "believed" : "targets";
}

Json moves_json(const std::vector<SliderMove>& moves) {
  Json j = Json::object();
  for (const SliderMove& m : moves) j[m.adjuster] = number(m.amount);
  return j;
}

}  // namespace

std::string note_to_json(const NoteBench& bench) {
  const Key key = bench.prepared.key;
  return dumped_short({{"note", note_name(key)},
                       {"key", key.number},
                       {"sharp", is_sharp(key)},
                       {"profile", bench.plan->profile},
                       {"profile_chosen", bench.plan->profile_chosen},
                       {"start", bench.believed ? "believed" : "targets"},
                       {"cannot", problem_json(bench.cannot)},
                       {"adjusters", sliders_json(bench)},
                       {"readings", reading_rows_json(bench)},
                       {"faults_at_targets", faults_json(bench.at_targets)},
                       {"faults_at_believed", faults_json(bench.at_believed)}});
}

std::string what_if_to_json(const NoteBench& bench, const WhatIfRequest& request,
                            const NoteWhatIf& answer) {
  const Key key = bench.prepared.key;
  const Posture& p = answer.posture;
  const PressMarks marks = press_marks(answer.readings);
  Json j{{"note", note_name(key)},
         {"start", code_of(request.start)},
         {"moves", moves_json(request.moves)},
         {"blow", request.frames > 0},
         {"readings", readings_json(answer.readings, key)},
         {"faults", faults_json(answer.readings)},
         {"marks",
          {{"let_off", millimetres(marks.let_off)},
           {"drop", millimetres(marks.drop)},
           {"bottom", millimetres(marks.bottom)}}},
         {"string", millimetres(p.layout.string_height)},
         {"fixed", shapes_json(frame_shapes(p))},
         {"moving", shapes_json(part_shapes(p, is_sharp(key)))},
         {"points", points_json(p)},
         {"at", frame_json(p)},
         {"press",
          {{"columns", {"depth_mm", "force_gf", "below_mm"}},
           {"down", press_json(answer.readings.down, 1)},
           {"up", press_json(answer.readings.up, 2)}}}};
  j["frames"] = Json::array();
  Posture moving = p;
  for (const SweepPoint& row : answer.rows) {
    take_row(moving, row);
    j["frames"].push_back(frame_json(moving));
  }
  return dumped_short(j);
}

std::string strokes_to_json(const NoteBench& bench, const WhatIfRequest& request,
                            const StrokeRequest& asked, const std::vector<NamedStroke>& strokes) {
  Json list = Json::array();
  for (const NamedStroke& named : strokes) {
    const action::Stroke& s = named.stroke;
    const auto since = [&](double at) { return rounded(1e3 * (at - s.key_start), 1e3); };
    Json trace = Json::array();
    for (const action::TracePoint& t : thinned_trace(s)) {
      trace.push_back(since(t.time));
      trace.push_back(millimetres(t.key_depth));
      trace.push_back(millimetres(t.crown_below));
    }
    list.push_back({{"effort", named.effort},
                    {"hammer_speed_m_s", rounded(s.hammer_speed, 1e4)},
                    {"key_speed_m_s", rounded(s.key_speed, 1e4)},
                    {"events",
                     {{"let_off", since(s.let_off)},
                      {"string", since(s.string)},
                      {"key_bottom", since(s.key_bottom)},
                      {"check", since(s.check)},
                      {"jack_return", since(s.jack_return)}}},
                    {"check_distance_mm", millimetres(s.check_distance)},
                    {"free_flight_ms", rounded(1e3 * s.free_flight, 1e3)},
                    {"struck_twice", s.struck_twice},
                    {"trace", std::move(trace)}});
  }
  return dumped_short({{"note", note_name(bench.prepared.key)},
                       {"start", code_of(request.start)},
                       {"moves", moves_json(request.moves)},
                       {"touch", asked.touch},
                       {"columns", {"time_ms", "key_depth_mm", "crown_below_string_mm"}},
                       {"strokes", std::move(list)}});
}

}  // namespace batten

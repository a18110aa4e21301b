#include "core/action/words.hpp"
#include "core/regulation/brief/bench.hpp"
#include "core/regulation/brief/identity.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten::brief {

namespace {

using action::Adjustments;
using action::Note;
using action::Readings;

constexpr double none = std::numeric_limits<double>::quiet_NaN();

// m the key goes deeper where it bottoms before the hammer lets go.
constexpr double deeper[] = {1.0e-3, 2.0e-3, 3.5e-3};
// d static catch / d dip, and / d back check (docs/theory/action.md's C4; only a start).
constexpr double catch_by_dip = -4.2, catch_by_check = -6.33;
constexpr double nearest_catch = 0.006;  // m; nearer a check cannot be asked for
// m of key depth the key is let up to between repeated blows: the jack resets 2-4 mm below rest
// (docs/theory/action-checks.md, C10).
constexpr double partial_return = 0.003;

action::ReadOptions slow_only() {
  action::ReadOptions options;
  options.with_blow = options.keep_curves = false;
  return options;
}

std::string fault_names(const std::vector<action::Fault>& faults) {
  std::string text;
  for (const action::Fault f : faults)
    text += (text.empty() ? "" : ", ") + std::string(words_of(f).name);
  return text;
}

void take(const action::Regulated& regulated, SetNote& set) {
  set.note.adjustments = regulated.adjustments;
  set.note_dip = regulated.readings.dip * per_mm;
  set.usable = true;
  set.falls = (regulated.readings.dip - regulated.readings.aftertouch) * per_mm;
}

// Those that could not be regulated because the key bottoms too soon: with a deeper key, which is
// then made as shallow as was asked.
void set_with_deeper_key(const Bench& bench, std::span<const BriefPoint> points,
                         std::vector<SetNote>& sets) {
  for (const double more : deeper) {
    std::vector<std::size_t> whose;
    std::vector<action::Dimensions> dimensions;
    std::vector<action::Wanted> wanted;
    for (std::size_t i = 0; i < sets.size(); ++i) {
      if (sets[i].usable) continue;
      action::Wanted w = wanted_for(bench, points[i]);
      w.dip += more;
      w.check_distance = std::max(nearest_catch, w.check_distance + catch_by_dip * more);
      whose.push_back(i);
      dimensions.push_back(bench.dimensions);
      wanted.push_back(w);
    }
    if (whose.empty()) return;
    const auto regulated = solve_regulation(dimensions, wanted);
    for (std::size_t k = 0; k < whose.size(); ++k) {
      if (!regulated[k] || std::isnan(regulated[k]->readings.let_off)) continue;
      SetNote& set = sets[whose[k]];
      take(*regulated[k], set);
      const double dip = points[whose[k]].dip;
      set.note =
          at_dips(bench, set.note, regulated[k]->readings.dip * per_mm, std::span(&dip, 1))[0];
    }
  }
}

void find_misses(const Bench& bench, BriefFigures& f) {
  const auto hold = [&](Need need, double value, double slack = 1e-9) {
    const Band& band = bench.at(need);
    if (value >= band.low - slack && value <= band.high + slack) return;
    const double by = value < band.low ? band.low - value : value - band.high;
    f.misses.push_back({need, value, by});
  };
  hold(Need::blow, f.point.blow);
  hold(bench.dip_need(), f.point.dip);
  hold(Need::let_off, f.point.let_off);
  hold(Need::drop, f.point.drop);
  if (!f.read) return;
  hold(Need::aftertouch, f.escape_margin);
  if (std::isnan(f.aftertouch)) return;
  hold(Need::check_distance, bench.wanted_check);
  constexpr double regulated_to = 0.01;  // mm, the solver's tolerance
  hold(Need::jack_clearance, f.jack_clearance, regulated_to);
  if (!std::isnan(f.rest_scatter)) hold(Need::rest_scatter, std::abs(f.rest_scatter));
}

void take(const Readings& r, const SetNote& set, BriefFigures& f) {
  f.read = true;
  f.aftertouch = r.aftertouch * per_mm;
  f.escape_margin = std::isnan(r.aftertouch) ? r.dip * per_mm - set.falls : f.aftertouch;
  f.check_distance = r.static_catch * per_mm;
  f.jack_clearance = r.jack_clearance * per_mm;
  f.ratio = calc_ratio(f.point.blow, f.point.let_off, r.dip * per_mm, f.aftertouch);
  f.rest_scatter = r.rest_scatter * per_mm;
  f.lost_motion = r.lost_motion * per_mm;
  f.spring_grade = r.spring_grade;
  f.faults = r.faults;
  if (!r.down.empty()) {
    const auto& rest = r.down.front();
    const double load = rest.lever_force + rest.jack_force;
    f.lever_share = load > 0 ? rest.lever_force / load : none;
  }
}

void take(const std::vector<Result<action::Stroke>>& strokes, std::size_t effort,
          std::span<BriefFigures* const> figures) {
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    const auto& s = strokes[i];
    if (!s || !s->finite || std::isnan(s->string)) continue;
    BriefStroke& out = figures[i]->strokes[effort];
    out.hammer_speed = s->hammer_speed;
    out.travel_time = s->travel_time * per_ms;
    out.bottom_less_string = (s->key_bottom - s->string) * per_ms;
  }
}

}  // namespace

std::vector<Result<action::Stroke>> strike(std::span<const Note> notes, action::Effort effort) {
  const action::Finger finger = standard_finger(effort, action::Touch::pressed);
  action::StrokeOptions options;
  options.time = stroke_times[static_cast<std::size_t>(effort)];
  return calc_strokes(notes, std::span(&finger, 1), options);
}

std::vector<Note> at_dips(const Bench& bench, const Note& regulated, double regulated_dip,
                          std::span<const double> dips) {
  // The key's front goes deeper than its punching by the ratio of their distances.
  const double arm = bench.dimensions.key_front / bench.dimensions.front_rail;
  std::vector<Note> notes(dips.size(), regulated);
  for (std::size_t i = 0; i < dips.size(); ++i) {
    const double less = (regulated_dip - dips[i]) / per_mm;
    notes[i].adjustments.front_punchings += less / arm;
    notes[i].adjustments.back_check += catch_by_dip * less / catch_by_check;
  }
  const auto read = calc_readings(notes, slow_only());
  for (std::size_t i = 0; i < dips.size(); ++i) {
    if (!read[i]) continue;
    const double over = read[i]->dip - dips[i] / per_mm;
    notes[i].adjustments.front_punchings += over / arm;
    const double far = read[i]->static_catch - bench.wanted.check_distance;
    if (!std::isnan(far))
      notes[i].adjustments.back_check -= (far - catch_by_dip * over) / catch_by_check;
  }
  return notes;
}

std::vector<SetNote> set_notes(const Bench& bench, std::span<const BriefPoint> points,
                               const Adjustments* start) {
  const std::vector<action::Dimensions> dimensions(points.size(), bench.dimensions);
  std::vector<action::Wanted> wanted;
  for (const BriefPoint& p : points) wanted.push_back(wanted_for(bench, p));
  std::vector<Adjustments> starts;
  if (start != nullptr) starts.assign(points.size(), *start);
  const auto regulated = solve_regulation(dimensions, wanted, starts);
  std::vector<SetNote> sets(points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    SetNote& set = sets[i];
    set.note.dimensions = bench.dimensions;
    if (!regulated[i]) {
      set.hindrance = regulated[i].error().sentence();
      continue;
    }
    take(*regulated[i], set);
    set.reached = regulated[i]->reached;
    if (!set.reached) set.hindrance = fault_names(regulated[i]->readings.faults);
    // Neither let go nor said why: begin anew with a deeper key.
    if (std::isnan(set.falls)) set.usable = false;
  }
  set_with_deeper_key(bench, points, sets);
  return sets;
}

std::vector<BriefFigures> calc_figures(const Bench& bench, std::span<const BriefPoint> points,
                                       const Adjustments* start) {
  const std::vector<SetNote> sets = set_notes(bench, points, start);
  std::vector<BriefFigures> figures(points.size());
  std::vector<Note> notes;
  std::vector<BriefFigures*> whose;
  std::vector<const SetNote*> set_of;
  for (std::size_t i = 0; i < points.size(); ++i) {
    BriefFigures& f = figures[i];
    f.point = points[i];
    f.reached = sets[i].reached;
    f.hindrance = sets[i].hindrance;
    f.note = sets[i].note;
    for (double BriefFigures::*unknown :
         {&BriefFigures::escape_margin, &BriefFigures::aftertouch, &BriefFigures::check_distance,
          &BriefFigures::jack_clearance, &BriefFigures::ratio, &BriefFigures::rest_scatter,
          &BriefFigures::lever_share, &BriefFigures::lost_motion, &BriefFigures::repetition})
      f.*unknown = none;
    f.strokes.fill({none, none, none});
    if (!sets[i].usable) continue;
    notes.push_back(sets[i].note);
    whose.push_back(&f);
    set_of.push_back(&sets[i]);
  }
  const auto readings = calc_readings(notes);
  for (std::size_t i = 0; i < notes.size(); ++i)
    if (readings[i]) take(*readings[i], *set_of[i], *whose[i]);
  using action::Effort;
  for (const Effort effort : {Effort::soft, Effort::middling, Effort::loud})
    take(strike(notes, effort), static_cast<std::size_t>(effort), whose);
  for (BriefFigures& f : figures) find_misses(bench, f);
  return figures;
}

void add_repetition(BriefFigures& figures) {
  if (!figures.read) return;
  const action::Finger finger = standard_finger(action::Effort::middling, action::Touch::pressed);
  if (const auto period = find_repetition(figures.note, finger, partial_return))
    figures.repetition = *period * per_ms;
}

}  // namespace batten::brief

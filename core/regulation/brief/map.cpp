#include "core/regulation/brief/map.hpp"

#include "core/regulation/brief/bench.hpp"
#include "core/regulation/brief/curve.hpp"
#include "core/regulation/brief/identity.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten {

namespace brief {

namespace {

using action::Note;

constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr int blow_nodes = 5;
// mm of escape margin where strokes are calculated; closest where the key bottoms as the hammer
// lets go, because there the timing turns.
constexpr double margin_nodes[] = {-3.5, -2.5, -1.6, -0.9, -0.4, -0.1, 0.15, 0.4,
                                   0.8,  1.3,  1.9,  2.6,  3.5,  4.6,  6.0};
// Of a stroke: bottom less string at three efforts (ms), hammer speed loud (m/s), travel time
// middling (ms).
constexpr std::size_t value_count = 5;
using Values = std::array<double, value_count>;

// Strokes of all notes at the three efforts.
std::vector<Values> strike_all(std::span<const Note> notes) {
  using action::Effort;
  constexpr Effort efforts[] = {Effort::soft, Effort::middling, Effort::loud};
  std::vector<Values> out(notes.size());
  for (auto& v : out) v.fill(none);
  for (std::size_t e = 0; e < 3; ++e) {
    const auto strokes = strike(notes, efforts[e]);
    for (std::size_t i = 0; i < notes.size(); ++i) {
      if (!strokes[i] || !strokes[i]->finite || std::isnan(strokes[i]->string)) continue;
      out[i][e] = (strokes[i]->key_bottom - strokes[i]->string) * per_ms;
      if (e == 2) out[i][3] = strokes[i]->hammer_speed;
      if (e == 1) out[i][4] = strokes[i]->travel_time * per_ms;
    }
  }
  return out;
}

// Solved points and curves of one register.
struct Solved {
  std::vector<double> blows;  // those that could be regulated
  std::vector<SetNote> sets;
  Polynomial escape;              // mm over blow
  std::vector<double> margins;    // the nodes that are needed
  std::vector<Values> values;     // margins fastest
  std::vector<std::uint8_t> rub;  // the same: the check is touched on the way up
  // Over blow at each margin.
  std::vector<std::array<Polynomial, value_count>> curves;
};

// mm the key is deeper than the hammer needs, where a blow is regulated: more than the ratio
// changes over a map.
constexpr double spare = 1.5;

void solve_blows(const Bench& bench, const MapAxes& axes, Solved& s) {
  const auto first = set_notes(bench, std::span(&bench.sheet, 1), nullptr);
  if (!first[0].usable) return;
  const double ratio = (bench.sheet.blow - bench.sheet.let_off) / first[0].falls;
  std::vector<BriefPoint> points;
  for (int i = 0; i < blow_nodes; ++i) {
    BriefPoint p = bench.sheet;
    p.blow = axes.blow_low + (axes.blow_high - axes.blow_low) * i / (blow_nodes - 1);
    p.dip = calc_escape_depth(p.blow, p.let_off, ratio) + spare;
    points.push_back(p);
  }
  auto sets = set_notes(bench, points, nullptr);
  std::vector<double> falls;
  for (std::size_t i = 0; i < sets.size(); ++i) {
    if (!sets[i].usable) continue;
    s.blows.push_back(points[i].blow);
    falls.push_back(sets[i].falls);
    sets[i].falls = falls.back();
    s.sets.push_back(std::move(sets[i]));
  }
  s.escape = fit_polynomial(s.blows, falls);
}

void solve_margins(const Bench& bench, const MapAxes& axes, Solved& s) {
  const double low = axes.dip_low - s.escape(axes.blow_high),
               high = axes.dip_high - s.escape(axes.blow_low);
  for (std::size_t k = 0; k < std::size(margin_nodes); ++k) {
    const bool above = k + 1 < std::size(margin_nodes) && margin_nodes[k + 1] <= low;
    const bool beyond = k > 0 && margin_nodes[k - 1] >= high;
    if (!above && !beyond) s.margins.push_back(margin_nodes[k]);
  }
  std::vector<Note> notes;
  for (std::size_t i = 0; i < s.blows.size(); ++i) {
    std::vector<double> dips;
    for (const double m : s.margins) dips.push_back(s.sets[i].falls + m);
    const double regulated = s.sets[i].note_dip;
    const auto at = at_dips(bench, s.sets[i].note, regulated, dips);
    notes.insert(notes.end(), at.begin(), at.end());
  }
  s.values = strike_all(notes);
  action::ReadOptions slow;
  slow.with_blow = slow.keep_curves = false;
  const auto readings = calc_readings(notes, slow);
  for (const auto& r : readings)
    s.rub.push_back(r &&
                    std::ranges::find(r->faults, action::Fault::touches_check) != r->faults.end());
  const std::size_t count = s.margins.size();
  s.curves.resize(count);
  for (std::size_t m = 0; m < count; ++m)
    for (std::size_t v = 0; v < value_count; ++v) {
      std::vector<double> at, y;
      for (std::size_t i = 0; i < s.blows.size(); ++i) {
        const double value = s.values[i * count + m][v];
        if (std::isnan(value)) continue;
        at.push_back(s.blows[i]);
        y.push_back(value);
      }
      s.curves[m][v] = fit_polynomial(at, y);
    }
}

// The curves over the margin at one blow.
std::vector<SmoothCurve> curves_at(const Solved& s, double blow) {
  std::vector<SmoothCurve> curves;
  for (std::size_t v = 0; v < value_count; ++v) {
    std::vector<double> y;
    for (const auto& at_margin : s.curves) y.push_back(at_margin[v](blow));
    curves.emplace_back(s.margins, y);
  }
  return curves;
}

std::size_t nearest(const std::vector<double>& nodes, double x) {
  const auto at = std::ranges::min_element(nodes, {}, [&](double n) { return std::abs(n - x); });
  return static_cast<std::size_t>(at - nodes.begin());
}

// Figures at one point of a column of constant blow.
MapPoint point_at(const Bench& bench, const Solved& s, const std::vector<SmoothCurve>& curves,
                  std::size_t nearest_blow, double margin, double base_power) {
  MapPoint p;
  p.escape_margin = margin;
  for (std::size_t e = 0; e < 3; ++e) p.bottom_less_string[e] = curves[e](margin);
  p.power = 100 * (curves[3](margin) / base_power - 1);
  p.travel = curves[4](margin);
  const auto set = [&](MapFault f) {
    p.faults = static_cast<std::uint8_t>(p.faults | static_cast<std::uint8_t>(f));
  };
  const Band& a = bench.at(Need::aftertouch);
  if (margin <= 0) set(MapFault::no_escapement);
  if (margin > 0 && margin < a.low) set(MapFault::thin);
  if (margin > a.high) set(MapFault::fat);
  const std::size_t node = nearest_blow * s.margins.size() + nearest(s.margins, margin);
  if (margin > 0 && s.rub[node] != 0) set(MapFault::check);
  return p;
}

// The largest difference from notes regulated and struck at points between the solved ones.
void find_errors(const Bench& bench, const Solved& s, const MapAxes& axes, double base_power,
                 BriefMap& map) {
  std::vector<BriefPoint> points;
  for (std::size_t i = 0; i + 1 < s.blows.size(); ++i) {
    const double blow = 0.5 * (s.blows[i] + s.blows[i + 1]);
    for (std::size_t m = i; m + 1 < s.margins.size(); m += s.blows.size() - 1) {
      BriefPoint p = bench.sheet;
      p.blow = blow;
      p.dip = s.escape(blow) + 0.5 * (s.margins[m] + s.margins[m + 1]);
      if (p.dip >= axes.dip_low && p.dip <= axes.dip_high) points.push_back(p);
    }
  }
  const auto sets = set_notes(bench, points, nullptr);
  std::vector<Note> notes;
  for (const SetNote& set : sets) notes.push_back(set.note);
  const auto values = strike_all(notes);
  for (std::size_t i = 0; i < sets.size(); ++i) {
    if (!sets[i].usable) continue;
    const double blow = points[i].blow, margin = points[i].dip - s.escape(blow);
    const auto worse = [](double& worst, double difference) {
      if (std::abs(difference) > worst) worst = std::abs(difference);
    };
    worse(map.margin_error, sets[i].falls - s.escape(blow));
    const auto curves = curves_at(s, blow);
    for (std::size_t e = 0; e < 3; ++e) worse(map.timing_error, values[i][e] - curves[e](margin));
    worse(map.power_error, 100 * (values[i][3] - curves[3](margin)) / base_power);
    worse(map.travel_error, values[i][4] - curves[4](margin));
  }
}

Result<BriefMap> map_of(const BriefTask& task, const Register& where,
                        const std::optional<BriefPoint>& today, const MapAxes& axes) {
  auto bench = make_bench(task, where);
  if (!bench) return tl::unexpected(bench.error());
  BriefMap map;
  map.where = where;
  map.axes = axes;
  map.let_off = bench->sheet.let_off;
  map.drop = bench->sheet.drop;
  map.sheet = bench->sheet;
  map.today = today;
  map.aftertouch = bench->at(Need::aftertouch);
  map.points.resize(static_cast<std::size_t>(axes.blows) * static_cast<std::size_t>(axes.dips));
  Solved s;
  solve_blows(*bench, axes, s);
  if (!s.escape.known()) {
    for (MapPoint& p : map.points) {
      p = {none, {none, none, none}, none, none, static_cast<std::uint8_t>(MapFault::other)};
    }
    map.base_bottom_less_string.fill(none);
    map.base_travel = none;
    return map;
  }
  solve_margins(*bench, axes, s);
  const BriefPoint base = today.value_or(bench->sheet);
  const auto base_set = set_notes(*bench, std::span(&base, 1), nullptr);
  Values at_base;
  at_base.fill(none);
  if (base_set[0].usable) at_base = strike_all(std::span(&base_set[0].note, 1))[0];
  const double base_power = at_base[3];
  std::copy_n(at_base.begin(), 3, map.base_bottom_less_string.begin());
  map.base_travel = at_base[4];
  for (int i = 0; i < axes.blows; ++i) {
    const double blow = map.blow(i), escape = s.escape(blow);
    const auto curves = curves_at(s, blow);
    const std::size_t near = nearest(s.blows, blow);
    for (int j = 0; j < axes.dips; ++j)
      map.points[map.index(i, j)] =
          point_at(*bench, s, curves, near, map.dip(j) - escape, base_power);
  }
  find_errors(*bench, s, axes, base_power, map);
  return map;
}

Result<void> check_axes(const MapAxes& a) {
  const bool makes_sense = a.blow_low >= 30 && a.blow_high <= 65 && a.blow_high - a.blow_low >= 1 &&
                           a.dip_low >= 5 && a.dip_high <= 14 && a.dip_high - a.dip_low >= 0.5 &&
                           a.blows >= 2 && a.dips >= 2 && a.blows <= 400 && a.dips <= 400;
  if (makes_sense) return {};
  return problem(
      "A map over these blows and dips cannot be drawn.",
      "Blow lies between 30 and 65 mm, a millimetre apart at least; dip between 5 and 14 "
      "mm, half a millimetre apart; 2 to 400 points each way.");
}

}  // namespace

}  // namespace brief

Result<std::vector<BriefMap>> calc_brief_maps(const BriefTask& task, const MapAxes& axes) {
  if (auto ok = brief::check_axes(axes); !ok) return tl::unexpected(ok.error());
  const std::vector<Register> registers = task.registers.empty()
                                              ? usual_registers(task.compass, task.targets.sections)
                                              : task.registers;
  std::vector<BriefMap> maps;
  for (std::size_t i = 0; i < registers.size(); ++i) {
    auto map =
        brief::map_of(task, registers[i],
                      i < task.today.size() ? task.today[i] : std::optional<BriefPoint>{}, axes);
    if (!map) return tl::unexpected(map.error());
    maps.push_back(std::move(*map));
  }
  return maps;
}

}  // namespace batten

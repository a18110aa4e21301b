#include "core/regulation/brief/departures.hpp"

#include "core/regulation/brief/search.hpp"
#include "core/regulation/brief/unmet.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten::brief {

namespace {

// One way, found on the surface, until the solver confirms it or something else is the matter.
struct Attempt {
  Way way;
  double offset = 0;  // mm, the surface's error as found
  std::optional<BriefPoint> by;
  std::optional<BriefFigures> figures;  // what was tried last, working or not
  bool done = false;
};

constexpr int most_corrections = 3;

void look_at(const Bench& bench, const EscapeSurface& surface, BriefFigures figures,
             Attempt& attempt) {
  attempt.figures = std::move(figures);
  const BriefFigures& f = *attempt.figures;
  const bool only_aftertouch =
      f.read && f.misses.size() == 1 && f.misses[0].need == Need::aftertouch;
  if (f.works() || !only_aftertouch) {
    attempt.done = true;
    return;
  }
  const BriefPoint point = moved(bench.sheet, *attempt.by);
  attempt.offset = point.dip - f.escape_margin - surface.escape_depth(point.blow, point.let_off);
}

std::vector<Attempt> try_ways(const Bench& bench, const EscapeSurface& surface,
                              const Search& search) {
  std::vector<Attempt> attempts;
  for (const Way way : {Way::dip, Way::blow, Way::let_off, Way::least}) {
    Attempt attempt;
    attempt.way = way;
    attempts.push_back(std::move(attempt));
  }
  for (int round = 0; round < most_corrections; ++round) {
    std::vector<Attempt*> whose;
    std::vector<BriefPoint> points;
    for (Attempt& a : attempts) {
      if (a.done) continue;
      a.by = search.find(a.way, a.offset);
      if (!a.by) {
        a.done = true;
        continue;
      }
      whose.push_back(&a);
      points.push_back(moved(bench.sheet, *a.by));
    }
    if (whose.empty()) break;
    auto figures = calc_figures(bench, points, &surface.adjustments);
    for (std::size_t i = 0; i < whose.size(); ++i)
      look_at(bench, surface, std::move(figures[i]), *whose[i]);
  }
  return attempts;
}

// Where the drop asked for cannot be had or lies outside its band: the nearest that works.
std::optional<Departure> try_drop(const Bench& bench, const Search& search,
                                  const BriefFigures& base) {
  std::vector<BriefPoint> points;
  for (const double by : changes_within(bench.at(Need::drop), bench.sheet.drop, drop_step, true)) {
    if (by == 0) continue;
    BriefPoint p = bench.sheet;
    p.drop += by;
    points.push_back(p);
  }
  std::ranges::sort(points, {},
                    [&](const BriefPoint& p) { return std::abs(p.drop - bench.sheet.drop); });
  const auto sets = set_notes(bench, points, nullptr);
  for (std::size_t i = 0; i < sets.size(); ++i) {
    if (!sets[i].reached) continue;
    auto figures = calc_figures(bench, std::span(&points[i], 1), nullptr);
    if (!figures[0].works()) continue;
    BriefPoint by;
    by.drop = points[i].drop - bench.sheet.drop;
    return departure_of(search, Way::drop, by, std::move(figures[0]), base);
  }
  return std::nullopt;
}

}  // namespace

Departure departure_of(const Search& search, Way way, const BriefPoint& by, BriefFigures figures,
                       const BriefFigures& base) {
  Departure d;
  d.way = way;
  d.by = by;
  d.size = search.size(by);
  add_repetition(figures);
  d.price = price_of(figures, base);
  d.cost = search.cost_of_change(by, figures.aftertouch) +
           search.cost_of_stroke(figures.strokes[2].hammer_speed, figures.strokes[1].travel_time,
                                 figures.strokes[1].bottom_less_string) +
           search.cost(Want::repetition, std::max(0.0, d.price.repetition));
  d.figures = std::move(figures);
  return d;
}

Ways find_departures(const Bench& bench, const EscapeSurface& surface, const BriefWishes& wishes,
                     const BriefFigures& sheet, const BriefFigures& base) {
  Ways out;
  const Search search(bench, surface, wishes);
  const auto take = [&](Way way, const BriefPoint& by, BriefFigures figures) {
    const bool known =
        std::ranges::any_of(out.departures, [&](const Departure& d) { return d.by == by; });
    if (!known) out.departures.push_back(departure_of(search, way, by, std::move(figures), base));
  };
  std::optional<BriefFigures> tried;
  if (surface.found)
    for (Attempt& a : try_ways(bench, surface, search)) {
      if (!a.figures) continue;
      tried = a.figures;
      if (a.figures->works()) take(a.way, *a.by, std::move(*a.figures));
    }
  if (out.departures.empty() && !sheet.works())
    if (auto departure = try_drop(bench, search, base))
      out.departures.push_back(std::move(*departure));
  if (out.departures.empty()) {
    const Stuck stuck = find_unmet(bench, surface, sheet, tried);
    out.unmet = stuck.unmet;
    // The bands' corner may lie between the steps of a search.
    if (stuck.works) take(Way::least, stuck.works->first, stuck.works->second);
  }
  std::ranges::sort(out.departures, {}, &Departure::cost);
  return out;
}

double find_dip_change(const RegisterBrief& at, double blow, double let_off) {
  const auto band = [&](Need need) { return at.bands[index_of(need)]; };
  const double dip = at.sheet.point.dip;
  const Band a = band(Need::aftertouch);
  const double escape = at.surface->escape_depth(blow, let_off);
  double best = std::numeric_limits<double>::infinity(), change = 0;
  for (const double by : changes_within(band(is_sharp(at.where.key) ? Need::sharp_dip : Need::dip),
                                        dip, dip_step, true)) {
    const double margin = dip + by - escape;
    const double outside = std::max({0.0, a.low + guard - margin, margin - (a.high - guard)});
    // What is outside weighs more than any way there.
    const double here = 1e3 * outside + std::abs(by);
    if (here >= best) continue;
    best = here;
    change = by;
  }
  return change;
}

}  // namespace batten::brief

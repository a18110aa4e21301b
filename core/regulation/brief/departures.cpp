#include "core/regulation/brief/departures.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten::brief {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
// mm kept to the aftertouch's edges: the solver regulates to 10 um.
constexpr double guard = 0.01;

// Whole steps from the sheet's figure that stay within a band.
struct Steps {
  int first, last;
  double step;
};
Steps steps_within(const Band& band, double sheet, double step) {
  constexpr double tiny = 1e-6;
  return {static_cast<int>(std::ceil((band.low - sheet) / step - tiny)),
          static_cast<int>(std::floor((band.high - sheet) / step + tiny)), step};
}
Steps none_of(const Steps& all) {
  if (all.first > 0 || all.last < 0) return {1, 0, all.step};  // the sheet's own is outside
  return {0, 0, all.step};
}

double square(double x) { return x * x; }

class Search {
 public:
  Search(const Bench& bench, const EscapeSurface& surface, const BriefWishes& wishes)
      : bench_(bench), surface_(surface), wishes_(wishes) {
    const Band& a = bench.at(Need::aftertouch);
    middle_ = 0.5 * (a.low + a.high);
    const BriefPoint& s = bench.sheet;
    power_ = surface.calc_power(s.blow, s.let_off, middle_);
    travel_ = surface.calc_travel(s.blow, s.let_off, middle_);
    timing_ = surface.calc_timing(s.blow, s.let_off, middle_);
  }

  // Change from the sheet; nothing where the way leads nowhere. `offset` is added to the surface.
  std::optional<BriefPoint> find(Way way, double offset) const;

  double size(const BriefPoint& by) const {
    return std::sqrt(square(by.blow / unit(Want::blow)) + square(by.dip / unit(Want::dip)) +
                     square(by.let_off / unit(Want::let_off)) + square(by.drop / unit(Want::drop)));
  }
  // What a departure costs by the wants, against what the sheet's blow and let-off give with
  // aftertouch in the middle of its band. Figures that are not known cost nothing.
  double cost_of_change(const BriefPoint& by, double margin) const {
    return cost(Want::blow, by.blow) + cost(Want::dip, by.dip) + cost(Want::let_off, by.let_off) +
           cost(Want::drop, by.drop) + cost(Want::aftertouch, margin - middle_);
  }
  double cost_of_stroke(double power, double travel, double timing) const {
    return cost(Want::power, std::min(0.0, 100 * (power / power_ - 1))) +
           cost(Want::speed, std::max(0.0, travel - travel_)) +
           cost(Want::timing, timing - timing_);
  }
  double cost(Want want, double change) const {
    if (!std::isfinite(change)) return 0;
    return wishes_.at(want) * square(change / unit(want));
  }

 private:
  static double unit(Want want) { return want_kinds()[index_of(want)].unit_size; }

  const Bench& bench_;
  const EscapeSurface& surface_;
  const BriefWishes& wishes_;
  double middle_ = 0, power_ = 0, travel_ = 0, timing_ = 0;
};

std::optional<BriefPoint> Search::find(Way way, double offset) const {
  const BriefPoint& s = bench_.sheet;
  const auto pick = [&](Need need, double sheet, double step, Way alone) {
    const Steps all = steps_within(bench_.at(need), sheet, step);
    return way == alone || way == Way::least ? all : none_of(all);
  };
  const Steps blows = pick(Need::blow, s.blow, blow_step, Way::blow),
              dips = pick(bench_.dip_need(), s.dip, dip_step, Way::dip),
              let_offs = pick(Need::let_off, s.let_off, let_off_step, Way::let_off),
              drops = none_of(steps_within(bench_.at(Need::drop), s.drop, drop_step));
  if (drops.last < drops.first) return std::nullopt;
  const Band& a = bench_.at(Need::aftertouch);
  double best = infinite;
  std::optional<BriefPoint> found;
  for (int i = blows.first; i <= blows.last; ++i)
    for (int j = let_offs.first; j <= let_offs.last; ++j) {
      BriefPoint by;
      by.blow = i * blows.step;
      by.let_off = j * let_offs.step;
      const double blow = s.blow + by.blow, let_off = s.let_off + by.let_off;
      const double escape = surface_.escape_depth(blow, let_off) + offset;
      for (int k = dips.first; k <= dips.last; ++k) {
        by.dip = k * dips.step;
        const double margin = s.dip + by.dip - escape;
        if (margin < a.low + guard || margin > a.high - guard) continue;
        double here = way == Way::least ? cost_of_change(by, margin) : size(by);
        if (here >= best) continue;
        if (way == Way::least)
          here += cost_of_stroke(surface_.calc_power(blow, let_off, margin),
                                 surface_.calc_travel(blow, let_off, margin),
                                 surface_.calc_timing(blow, let_off, margin));
        if (here >= best) continue;
        best = here;
        found = by;
      }
    }
  return found;
}

BriefPoint moved(const BriefPoint& from, const BriefPoint& by) {
  return {from.blow + by.blow, from.dip + by.dip, from.let_off + by.let_off, from.drop + by.drop};
}

Price price_of(const BriefFigures& f, const BriefFigures& base) {
  Price p;
  p.power = 100 * (f.strokes[2].hammer_speed / base.strokes[2].hammer_speed - 1);
  p.travel = f.strokes[1].travel_time - base.strokes[1].travel_time;
  p.timing = f.strokes[1].bottom_less_string - base.strokes[1].bottom_less_string;
  p.repetition = f.repetition - base.repetition;
  p.aftertouch = f.aftertouch - base.aftertouch;
  return p;
}

Departure departure_of(const Search& search, Way way, const BriefPoint& by, BriefFigures figures,
                       const BriefFigures& base) {
  Departure d;
  d.way = way;
  d.by = by;
  d.size = search.size(by);
  d.price = price_of(figures, base);
  d.cost = search.cost_of_change(by, figures.aftertouch) +
           search.cost_of_stroke(figures.strokes[2].hammer_speed, figures.strokes[1].travel_time,
                                 figures.strokes[1].bottom_less_string) +
           search.cost(Want::repetition, std::max(0.0, d.price.repetition));
  d.figures = std::move(figures);
  return d;
}

// The surface's error where it was found to be off; nothing where something else is the matter.
std::optional<double> aftertouch_missed(const BriefFigures& f) {
  if (!f.read || f.misses.size() != 1 || f.misses[0].need != Need::aftertouch) return std::nullopt;
  return f.escape_margin;
}

constexpr int most_corrections = 3;

// By one way, found on the surface and confirmed; the figures of what was tried last, working or
// not.
std::optional<Departure> try_way(const Bench& bench, const EscapeSurface& surface,
                                 const Search& search, Way way, const BriefFigures& base,
                                 std::optional<BriefFigures>& tried) {
  double offset = 0;
  for (int round = 0; round < most_corrections; ++round) {
    const auto by = search.find(way, offset);
    if (!by) return std::nullopt;
    const BriefPoint point = moved(bench.sheet, *by);
    auto figures = calc_figures(bench, std::span(&point, 1), &surface.adjustments, true);
    tried = figures[0];
    if (tried->works()) return departure_of(search, way, *by, std::move(*tried), base);
    const auto margin = aftertouch_missed(*tried);
    if (!margin) return std::nullopt;
    offset = point.dip - *margin - surface.escape_depth(point.blow, point.let_off);
  }
  return std::nullopt;
}

// Where the drop asked for cannot be had or lies outside its band: the nearest that works.
std::optional<Departure> try_drop(const Bench& bench, const Search& search,
                                  const BriefFigures& base) {
  const Steps steps = steps_within(bench.at(Need::drop), bench.sheet.drop, drop_step);
  std::vector<BriefPoint> points;
  for (int k = steps.first; k <= steps.last; ++k) {
    if (k == 0) continue;
    BriefPoint p = bench.sheet;
    p.drop += k * steps.step;
    points.push_back(p);
  }
  std::ranges::sort(points, {},
                    [&](const BriefPoint& p) { return std::abs(p.drop - bench.sheet.drop); });
  const auto sets = set_notes(bench, points, nullptr);
  for (std::size_t i = 0; i < sets.size(); ++i) {
    if (!sets[i].reached) continue;
    auto figures = calc_figures(bench, std::span(&points[i], 1), nullptr, true);
    if (!figures[0].works()) continue;
    BriefPoint by;
    by.drop = points[i].drop - bench.sheet.drop;
    return departure_of(search, Way::drop, by, std::move(figures[0]), base);
  }
  return std::nullopt;
}

// The corner of the bands that helps the aftertouch most.
Unmet nearest_aftertouch(const Bench& bench, const EscapeSurface& surface,
                         const BriefFigures& sheet) {
  const Band &blow = bench.at(Need::blow), &dip = bench.at(bench.dip_need()),
             &let_off = bench.at(Need::let_off), &a = bench.at(Need::aftertouch);
  const double margin =
      bench.sheet.dip - surface.escape_depth(bench.sheet.blow, bench.sheet.let_off);
  const bool thin = margin < 0.5 * (a.low + a.high);
  BriefPoint corner = bench.sheet;
  corner.blow = thin ? blow.low : blow.high;
  corner.dip = thin ? dip.high : dip.low;
  corner.let_off = thin ? let_off.high : let_off.low;
  const auto figures = calc_figures(bench, std::span(&corner, 1), &surface.adjustments, false)[0];
  Unmet unmet;
  unmet.need = Need::aftertouch;
  unmet.at = corner;
  unmet.nearest = figures.read ? figures.escape_margin
                               : corner.dip - surface.escape_depth(corner.blow, corner.let_off);
  unmet.by = unmet.nearest < a.low ? a.low - unmet.nearest : unmet.nearest - a.high;
  // Steps of a hand may leave no figure inside where the band is narrower than a step.
  unmet.by = std::max(0.0, unmet.by);
  if (!sheet.read && !figures.read) unmet.nearest = std::nan("");
  return unmet;
}

// The most jack clearance that can be had, where not even the note's rest can be set.
std::optional<Unmet> nearest_clearance(const Bench& bench) {
  Bench less = bench;
  const double wanted = bench.wanted_clearance;
  constexpr int rounds = 6;
  double low = 0, high = wanted;
  bool any = false;
  for (int round = 0; round < rounds; ++round) {
    const double tried = round == 0 ? 0 : 0.5 * (low + high);
    less.wanted.jack_clearance = tried / per_mm;
    const bool had = set_notes(less, std::span(&bench.sheet, 1), nullptr)[0].usable;
    any = any || had;
    if (round == 0 && !had) return std::nullopt;
    (had ? low : high) = tried;
  }
  if (!any) return std::nullopt;
  Unmet unmet;
  unmet.need = Need::jack_clearance;
  unmet.nearest = low;
  unmet.by = std::max(bench.at(Need::jack_clearance).low, wanted) - low;
  unmet.at = bench.sheet;
  return unmet;
}

std::vector<Unmet> unmet_of(const Bench& bench, const EscapeSurface& surface,
                            const BriefFigures& sheet, const std::optional<BriefFigures>& tried) {
  std::vector<Unmet> list;
  if (!surface.found) {
    if (const auto clearance = nearest_clearance(bench)) list.push_back(*clearance);
  } else if (tried) {
    for (const Miss& m : tried->misses) list.push_back({m.need, m.value, m.by, tried->point});
    if (list.empty() &&
        std::ranges::find(tried->faults, action::Fault::touches_check) != tried->faults.end())
      list.push_back({Need::check_distance, bench.wanted_check, std::nan(""), tried->point});
  } else {
    list.push_back(nearest_aftertouch(bench, surface, sheet));
  }
  // Nothing that has a name: the drop is what a note's last reading to fail is.
  if (list.empty()) list.push_back({Need::drop, std::nan(""), std::nan(""), bench.sheet});
  return list;
}

}  // namespace

Ways find_departures(const Bench& bench, const EscapeSurface& surface, const BriefWishes& wishes,
                     const BriefFigures& sheet, const BriefFigures& base) {
  Ways out;
  const Search search(bench, surface, wishes);
  std::optional<BriefFigures> tried;
  if (surface.found) {
    const auto same = [&](const Departure& d) {
      return std::ranges::any_of(out.departures,
                                 [&](const Departure& known) { return known.by == d.by; });
    };
    for (const Way way : {Way::dip, Way::blow, Way::let_off, Way::least}) {
      auto departure = try_way(bench, surface, search, way, base, tried);
      if (departure && !same(*departure)) out.departures.push_back(std::move(*departure));
    }
  }
  if (!sheet.reached && (!surface.found || out.departures.empty()))
    if (auto departure = try_drop(bench, search, base))
      out.departures.push_back(std::move(*departure));
  if (out.departures.empty()) out.unmet = unmet_of(bench, surface, sheet, tried);
  std::ranges::sort(out.departures, {}, &Departure::cost);
  return out;
}

double find_dip_change(const RegisterBrief& at, double blow, double let_off) {
  const auto band = [&](Need need) { return at.bands[index_of(need)]; };
  const double dip = at.sheet.point.dip;
  const Steps steps =
      steps_within(band(is_sharp(at.where.key) ? Need::sharp_dip : Need::dip), dip, dip_step);
  const Band a = band(Need::aftertouch);
  const double escape = at.surface->escape_depth(blow, let_off);
  double best = infinite, change = 0;
  for (int k = steps.first; k <= steps.last; ++k) {
    const double margin = dip + k * dip_step - escape;
    const double outside = std::max({0.0, a.low + guard - margin, margin - (a.high - guard)});
    // What is outside weighs more than any way there.
    const double here = 1e3 * outside + std::abs(k) * dip_step;
    if (here >= best) continue;
    best = here;
    change = k * dip_step;
  }
  return change;
}

}  // namespace batten::brief

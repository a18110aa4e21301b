#include "core/regulation/brief/search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten::brief {

namespace {

double square(double x) { return x * x; }
double unit(Want want) { return want_kinds()[index_of(want)].unit_size; }

}  // namespace

BriefPoint moved(const BriefPoint& from, const BriefPoint& by) {
  return {from.blow + by.blow, from.dip + by.dip, from.let_off + by.let_off, from.drop + by.drop};
}

std::vector<double> changes_within(const Band& band, double sheet, double step, bool may_change) {
  constexpr double tiny = 1e-6;
  std::vector<double> list;
  if (!may_change) {
    if (sheet >= band.low - tiny && sheet <= band.high + tiny) list.push_back(0);
    return list;
  }
  const int first = static_cast<int>(std::ceil((band.low - sheet) / step - tiny)),
            last = static_cast<int>(std::floor((band.high - sheet) / step + tiny));
  list.push_back(band.low - sheet);
  for (int k = first; k <= last; ++k) {
    const double by = k * step;
    if (by > list.back() + tiny) list.push_back(by);
    // Whole steps are exact: no change is none.
    if (std::abs(by - list.back()) <= tiny) list.back() = by;
  }
  if (band.high - sheet > list.back() + tiny) list.push_back(band.high - sheet);
  return list;
}

Search::Search(const Bench& bench, const EscapeSurface& surface, const BriefWishes& wishes)
    : bench_(&bench), surface_(&surface), wishes_(&wishes) {
  const Band& a = bench.at(Need::aftertouch);
  middle_ = 0.5 * (a.low + a.high);
  const BriefPoint& s = bench.sheet;
  power_ = surface.calc_power(s.blow, s.let_off, middle_);
  travel_ = surface.calc_travel(s.blow, s.let_off, middle_);
  timing_ = surface.calc_timing(s.blow, s.let_off, middle_);
}

double Search::size(const BriefPoint& by) const {
  return std::sqrt(square(by.blow / unit(Want::blow)) + square(by.dip / unit(Want::dip)) +
                   square(by.let_off / unit(Want::let_off)) + square(by.drop / unit(Want::drop)));
}

double Search::cost(Want want, double change) const {
  if (!std::isfinite(change)) return 0;
  return wishes_->at(want) * square(change / unit(want));
}

double Search::cost_of_change(const BriefPoint& by, double margin) const {
  return cost(Want::blow, by.blow) + cost(Want::dip, by.dip) + cost(Want::let_off, by.let_off) +
         cost(Want::drop, by.drop) + cost(Want::aftertouch, margin - middle_);
}

double Search::cost_of_stroke(double power, double travel, double timing) const {
  return cost(Want::power, std::min(0.0, 100 * (power / power_ - 1))) +
         cost(Want::speed, std::max(0.0, travel - travel_)) + cost(Want::timing, timing - timing_);
}

double Search::cost_of_stroke(const BriefPoint& by, double margin) const {
  const double blow = bench_->sheet.blow + by.blow, let_off = bench_->sheet.let_off + by.let_off;
  return cost_of_stroke(surface_->calc_power(blow, let_off, margin),
                        surface_->calc_travel(blow, let_off, margin),
                        surface_->calc_timing(blow, let_off, margin));
}

std::optional<BriefPoint> Search::find(Way way, double offset) const {
  const Bench& b = *bench_;
  const BriefPoint& s = b.sheet;
  const bool least = way == Way::least;
  const auto blows = changes_within(b.at(Need::blow), s.blow, blow_step, least || way == Way::blow),
             dips = changes_within(b.at(b.dip_need()), s.dip, dip_step, least || way == Way::dip),
             let_offs = changes_within(b.at(Need::let_off), s.let_off, let_off_step,
                                       least || way == Way::let_off);
  if (changes_within(b.at(Need::drop), s.drop, drop_step, false).empty()) return std::nullopt;
  const Band& a = b.at(Need::aftertouch);
  double best = std::numeric_limits<double>::infinity();
  std::optional<BriefPoint> found;
  for (const double blow : blows)
    for (const double let_off : let_offs) {
      BriefPoint by{blow, 0, let_off, 0};
      const double escape = surface_->escape_depth(s.blow + blow, s.let_off + let_off) + offset;
      for (const double dip : dips) {
        by.dip = dip;
        const double margin = s.dip + dip - escape;
        if (margin < a.low + guard || margin > a.high - guard) continue;
        double here = least ? cost_of_change(by, margin) : size(by);
        if (here >= best) continue;
        if (least) here += cost_of_stroke(by, margin);
        if (here >= best) continue;
        best = here;
        found = by;
      }
    }
  return found;
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

}  // namespace batten::brief

#include "core/regulation/brief/shared_least.hpp"

#include "core/regulation/brief/departures.hpp"
#include "core/regulation/brief/search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace batten::brief {

namespace {

// How much more than each register's own best the common change may cost.
constexpr double most_share = 1.5;
// mm; where the solver finds the aftertouch just outside, the search keeps so much farther in.
constexpr double step_in = 0.015;
constexpr int most_rounds = 3;

// Changes that stay within every register's band.
std::vector<double> changes_for_all(const std::vector<Search>& all, Need need,
                                    double BriefPoint::*member, double step) {
  Band band{-std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity(),
            true};
  for (const Search& s : all) {
    const Band& own = s.bench().at(need);
    band.low = std::max(band.low, own.low - s.bench().sheet.*member);
    band.high = std::min(band.high, own.high - s.bench().sheet.*member);
  }
  if (band.low > band.high) return {};
  return changes_within(band, 0, step, true);
}

std::optional<BriefPoint> find_common(const std::vector<Search>& all, double keep_in,
                                      double most_cost) {
  const auto blows = changes_for_all(all, Need::blow, &BriefPoint::blow, blow_step),
             dips = changes_for_all(all, Need::dip, &BriefPoint::dip, dip_step),
             let_offs = changes_for_all(all, Need::let_off, &BriefPoint::let_off, let_off_step);
  double best = most_cost;
  std::optional<BriefPoint> found;
  std::vector<double> escapes(all.size()), margins(all.size());
  const auto margins_hold = [&](double dip) {
    for (std::size_t i = 0; i < all.size(); ++i) {
      const Band& a = all[i].bench().at(Need::aftertouch);
      margins[i] = all[i].bench().sheet.dip + dip - escapes[i];
      if (margins[i] < a.low + keep_in || margins[i] > a.high - keep_in) return false;
    }
    return true;
  };
  for (const double blow : blows)
    for (const double let_off : let_offs) {
      for (std::size_t i = 0; i < all.size(); ++i)
        escapes[i] = all[i].surface().escape_depth(all[i].bench().sheet.blow + blow,
                                                   all[i].bench().sheet.let_off + let_off);
      for (const double dip : dips) {
        if (!margins_hold(dip)) continue;
        const BriefPoint by{blow, dip, let_off, 0};
        double here = 0;
        for (std::size_t i = 0; i < all.size() && here < best; ++i)
          here += all[i].cost_of_change(by, margins[i]);
        for (std::size_t i = 0; i < all.size() && here < best; ++i)
          here += all[i].cost_of_stroke(by, margins[i]);
        if (here >= best) continue;
        best = here;
        found = by;
      }
    }
  return found;
}

const BriefFigures& base_of(const RegisterBrief& r) {
  return r.today && r.today->read ? *r.today : r.sheet;
}

void put(RegisterBrief& r, Departure departure) {
  std::erase_if(r.departures,
                [&](const Departure& d) { return d.way == Way::least || d.by == departure.by; });
  r.departures.push_back(std::move(departure));
  std::ranges::sort(r.departures, {}, &Departure::cost);
}

}  // namespace

void share_least(std::span<const Bench> benches, Brief& brief) {
  std::vector<Search> all;
  std::vector<std::size_t> whose;
  double own_cost = 0;
  for (std::size_t i = 0; i < benches.size(); ++i) {
    const RegisterBrief& r = brief.registers[i];
    if (is_sharp(r.where.key) || r.departures.empty() || !r.surface->found) continue;
    all.emplace_back(benches[i], *r.surface, brief.wishes);
    whose.push_back(i);
    own_cost += r.departures.front().cost;
  }
  if (all.size() < 2) return;
  for (int round = 0; round < most_rounds; ++round) {
    const auto by = find_common(all, guard + round * step_in, most_share * own_cost);
    if (!by) return;
    std::vector<Departure> departures;
    for (std::size_t k = 0; k < all.size(); ++k) {
      const BriefPoint point = moved(all[k].bench().sheet, *by);
      auto figures =
          calc_figures(all[k].bench(), std::span(&point, 1), &all[k].surface().adjustments);
      if (!figures[0].works()) break;
      departures.push_back(departure_of(all[k], Way::least, *by, std::move(figures[0]),
                                        base_of(brief.registers[whose[k]])));
    }
    if (departures.size() < all.size()) continue;
    for (std::size_t k = 0; k < all.size(); ++k)
      put(brief.registers[whose[k]], std::move(departures[k]));
    return;
  }
}

}  // namespace batten::brief

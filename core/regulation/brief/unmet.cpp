#include "core/regulation/brief/unmet.hpp"

#include <algorithm>
#include <cmath>

namespace batten::brief {

namespace {

// The corner of the bands that helps the aftertouch most.
Stuck nearest_aftertouch(const Bench& bench, const EscapeSurface& surface) {
  const Band &blow = bench.at(Need::blow), &dip = bench.at(bench.dip_need()),
             &let_off = bench.at(Need::let_off), &a = bench.at(Need::aftertouch);
  const double margin =
      bench.sheet.dip - surface.escape_depth(bench.sheet.blow, bench.sheet.let_off);
  const bool thin = margin < 0.5 * (a.low + a.high);
  BriefPoint corner = bench.sheet;
  corner.blow = thin ? blow.low : blow.high;
  corner.dip = thin ? dip.high : dip.low;
  corner.let_off = thin ? let_off.high : let_off.low;
  const auto figures = calc_figures(bench, std::span(&corner, 1), &surface.adjustments)[0];
  Stuck stuck;
  if (figures.works()) {
    stuck.works = {{corner.blow - bench.sheet.blow, corner.dip - bench.sheet.dip,
                    corner.let_off - bench.sheet.let_off, 0},
                   figures};
    return stuck;
  }
  Unmet unmet;
  unmet.need = Need::aftertouch;
  unmet.at = corner;
  unmet.nearest = figures.read ? figures.escape_margin
                               : corner.dip - surface.escape_depth(corner.blow, corner.let_off);
  unmet.by = unmet.nearest < a.low ? a.low - unmet.nearest : unmet.nearest - a.high;
  if (unmet.by > 0) stuck.unmet.push_back(unmet);
  for (const Miss& m : figures.misses)
    if (m.need != Need::aftertouch) stuck.unmet.push_back({m.need, m.value, m.by, corner});
  return stuck;
}

// The need the solver's own words name: "The drop wanted cannot be had: …".
std::optional<Need> need_in(const std::string& hindrance) {
  for (const NeedKind& kind : need_kinds())
    if (hindrance.find("The " + std::string(kind.name) + " wanted") != std::string::npos)
      return kind.id;
  return std::nullopt;
}

// The most jack clearance that can be had, where not even the note's rest can be set.
std::optional<Unmet> nearest_clearance(const Bench& bench) {
  Bench less = bench;
  const double wanted = bench.wanted_clearance;
  constexpr int rounds = 6;
  constexpr double far_below = -0.5;  // mm; a hammer that lies on its jack
  double low = far_below, high = wanted;
  for (int round = 0; round < rounds; ++round) {
    const double tried = round == 0 ? far_below : 0.5 * (low + high);
    less.wanted.jack_clearance = tried / per_mm;
    // What else may be wanting then is another matter.
    const auto set = set_notes(less, std::span(&bench.sheet, 1), nullptr)[0];
    const bool had = set.usable || need_in(set.hindrance) != Need::jack_clearance;
    if (round == 0 && !had) return std::nullopt;
    (had ? low : high) = tried;
  }
  return Unmet{Need::jack_clearance, low,
               std::max(bench.at(Need::jack_clearance).low, wanted) - low, bench.sheet};
}

}  // namespace

Stuck find_unmet(const Bench& bench, const EscapeSurface& surface, const BriefFigures& sheet,
                 const std::optional<BriefFigures>& tried) {
  Stuck stuck;
  const auto named = need_in(sheet.hindrance);
  if (named == Need::jack_clearance) {
    if (const auto clearance = nearest_clearance(bench)) stuck.unmet.push_back(*clearance);
  } else if (surface.found && tried) {
    for (const Miss& m : tried->misses)
      stuck.unmet.push_back({m.need, m.value, m.by, tried->point});
    if (stuck.unmet.empty() &&
        std::ranges::find(tried->faults, action::Fault::touches_check) != tried->faults.end())
      stuck.unmet.push_back({Need::check_distance, bench.wanted_check, std::nan(""), tried->point});
  } else if (surface.found) {
    stuck = nearest_aftertouch(bench, surface);
  }
  // Otherwise what the solver named, how far off in its words; the drop is what a note that lets go
  // fails in last.
  if (stuck.unmet.empty() && !stuck.works)
    stuck.unmet.push_back({named.value_or(Need::drop), std::nan(""), std::nan(""), bench.sheet});
  return stuck;
}

}  // namespace batten::brief

// The least that must give way. Internal to core/regulation/brief.
#pragma once

#include "core/regulation/brief/bench.hpp"
#include "core/regulation/brief/search.hpp"
#include "core/regulation/brief/surface.hpp"

#include <vector>

namespace batten::brief {

struct Ways {
  std::vector<Departure> departures;  // rising cost
  std::vector<Unmet> unmet;           // where there are none
};

// `sheet` does not work; `base` is what prices are against. Each departure is the best of a dense
// search over a hand's steps on the surface, confirmed by the solver.
Ways find_departures(const Bench& bench, const EscapeSurface& surface, const BriefWishes& wishes,
                     const BriefFigures& sheet, const BriefFigures& base);

// `figures` work; their repetition is found here. Priced against `base`.
Departure departure_of(const Search& search, Way way, const BriefPoint& by, BriefFigures figures,
                       const BriefFigures& base);

// Smallest change of dip alone (mm, steps of dip_step) that brings the aftertouch into its band by
// the surface, with blow and let-off as given; the nearest to it within the dip's band where none
// does.
double find_dip_change(const RegisterBrief& at, double blow, double let_off);

}  // namespace batten::brief

// Looking for what must give way, on the surface. Internal to core/regulation/brief.
#pragma once

#include "core/regulation/brief/bench.hpp"
#include "core/regulation/brief/surface.hpp"

#include <optional>
#include <vector>

namespace batten::brief {

// mm kept to the aftertouch's edges on the surface: what the solver finds may differ by as much.
inline constexpr double guard = 0.005;

BriefPoint moved(const BriefPoint& from, const BriefPoint& by);

// Changes a hand can make that stay within a band: whole steps, and the band's ends themselves.
// Nothing where even no change is outside and `may_change` is false.
std::vector<double> changes_within(const Band& band, double sheet, double step, bool may_change);

class Search {
 public:
  Search(const Bench& bench, const EscapeSurface& surface, const BriefWishes& wishes);

  const Bench& bench() const { return *bench_; }
  const EscapeSurface& surface() const { return *surface_; }

  // The cheapest change from the sheet, by one way; nothing where it leads nowhere. `offset` (mm)
  // is added to the surface's escape depth.
  std::optional<BriefPoint> find(Way way, double offset) const;

  // In units of each reading's tolerance.
  double size(const BriefPoint& by) const;
  // What a departure costs by the wants, against what the sheet's blow and let-off give with
  // aftertouch in the middle of its band. Figures that are not known cost nothing.
  double cost_of_change(const BriefPoint& by, double margin) const;
  double cost_of_stroke(double power, double travel, double timing) const;
  double cost_of_stroke(const BriefPoint& by, double margin) const;  // as the surface has it
  double cost(Want want, double change) const;

 private:
  const Bench* bench_;
  const EscapeSurface* surface_;
  const BriefWishes* wishes_;
  double middle_ = 0, power_ = 0, travel_ = 0, timing_ = 0;
};

// Against `base`.
Price price_of(const BriefFigures& figures, const BriefFigures& base);

}  // namespace batten::brief

// The need that cannot be met. Internal to core/regulation/brief.
#pragma once

#include "core/regulation/brief/bench.hpp"
#include "core/regulation/brief/surface.hpp"

#include <optional>
#include <utility>
#include <vector>

namespace batten::brief {

struct Stuck {
  std::vector<Unmet> unmet;
  // The corner of the bands that helps most, where it works after all: change and figures.
  std::optional<std::pair<BriefPoint, BriefFigures>> works;
};

// `tried`: what a search found last and the solver did not confirm; nothing if it found nothing.
Stuck find_unmet(const Bench& bench, const EscapeSurface& surface, const BriefFigures& sheet,
                 const std::optional<BriefFigures>& tried);

}  // namespace batten::brief

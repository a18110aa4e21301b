// The order of the passes: the one in which later moves undo least of what is set.
#pragma once

#include "core/regulation/aims/aim.hpp"

#include <array>
#include <vector>

namespace batten {

// undone[i][j]: how far the moves of adjuster j, made after i's, push what i has set out of its
// tolerance: mean over the notes of |change| / tolerance. Indexed as the adjusters; 0 on the
// diagonal.
using UndoneTable = std::array<std::array<double, note_adjuster_count>, note_adjuster_count>;

struct OrderReport {
  std::vector<Adjuster> derived, common;  // all ten
  double rework_derived = 0, rework_common = 0;
  UndoneTable undone{};
};

// Sum over the pairs in order of what the later undoes of the earlier.
double rework(const UndoneTable& undone, const std::vector<Adjuster>& order);

// The order of least rework, exact (dynamic programming over subsets); of equals the one nearest to
// common practice, whose steps out of order weigh a thousandth of a tolerance each.
OrderReport derive_order(const UndoneTable& undone);

// Common practice, no source: key height, jack position, lever height, springs, blow, dip, let-off,
// drop, checks, dampers.
std::vector<Adjuster> common_order();

}  // namespace batten

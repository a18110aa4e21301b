// How far the years have taken an action from where it was once set.
#pragma once

#include "core/regulation/aims/aim.hpp"
#include "workshop/string_line.hpp"

#include <array>
#include <vector>

namespace batten::workshop {

// Per note, in what the aim of each adjuster has changed (aim_for; catalogue unit; the spring: its
// share of strength), felt at that adjuster. Estimates: hammers sunk by half to one millimetre,
// let-off crept, springs weaker, keys sagged toward the middle of the compass and uneven, each as a
// trend of the section, a scatter from note to note and a few that stand out.
using Misregulation = std::array<double, note_adjuster_count>;
std::vector<Misregulation> years_of_wear(const StringLine& strings, Chance& chance);

}  // namespace batten::workshop

// What the minutes there are would buy.
#pragma once

#include "app/plan_job.hpp"
#include "core/regulation/planning/in_time.hpp"

#include <vector>

namespace batten {

// From no minutes at all to all the work there is, evenly, `points` of them (2…200). `whole` is a
// plan made without minutes; nothing to do: one point. Errors: as calc_time_curve.
Result<std::vector<TimePoint>> time_curve(const PianoPlan& whole, int points = 33);

}  // namespace batten

#include "app/time_job.hpp"

namespace batten {

Result<std::vector<TimePoint>> time_curve(const PianoPlan& whole, int points) {
  const double all = whole.plan.minutes;
  if (!(all > 0)) return std::vector<TimePoint>{{0, 0, whole.plan.unevenness_after, {}}};
  std::vector<double> minutes;
  for (int i = 0; i < points; ++i) minutes.push_back(all * i / (points - 1));
  return guarded([&]() -> Result<std::vector<TimePoint>> {
    return calc_time_curve(whole.plan, whole.model, whole.standing.settings, minutes);
  });
}

}  // namespace batten

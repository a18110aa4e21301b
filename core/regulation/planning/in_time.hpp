// The plan cut to the minutes there are. Internal to core/regulation/planning, but for the weights
// and the curve.
#pragma once

#include "core/regulation/planning/passes.hpp"

#include <map>
#include <string>

namespace batten {

// How much each note is played, one per key, mean 1: setting "play-weight", one number per section
// with ';' between, else more in the middle than at the ends (estimate). Error: cannot be read,
// none above zero, wrong count.
Result<std::vector<double>> play_weights(Compass compass, const std::vector<Section>& sections,
                                         const std::map<std::string, std::string>& on_record);

// What a span of minutes buys.
struct TimePoint {
  double minutes = 0;            // there are
  double work = 0;               // minutes chosen, setting up included
  double unevenness = 0;         // left then, as Plan::unevenness_after
  std::vector<Adjuster> passes;  // with work in them, in working order
};

// One point per entry of `minutes` (rising, ≥ 0) of `plan`, which must be whole: made without
// PlanOptions::minutes. A plan made for those minutes does a little less where the notes done in
// part must be read again. Unevenness all but falls: the notes played most come first, and it
// counts all alike. Some milliseconds a point. Errors: as play_weights and time_box_curve.
Result<std::vector<TimePoint>> calc_time_curve(const Plan& plan, const ActionModel& model,
                                               const std::map<std::string, std::string>& settings,
                                               const std::vector<double>& minutes);

namespace planning {

// Leaves in `plan` and `board` what buys most evenness in options.minutes; the rest goes to
// plan.left_for_time. Errors: as play_weights and choose_in_time.
Result<void> fit_into_time(const Situation& s, Board& board, Plan& plan, const Paces& paces,
                           const std::map<std::string, std::string>& settings,
                           const PlanOptions& options);

}  // namespace planning
}  // namespace batten

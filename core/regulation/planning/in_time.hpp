// The plan cut to the minutes there are. Internal to core/regulation/planning, but for the weights.
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

namespace planning {

// Leaves in `plan` and `board` what buys most evenness in options.minutes; the rest goes to
// plan.left_for_time. Errors: as play_weights and choose_in_time.
Result<void> fit_into_time(const Situation& s, Board& board, Plan& plan, const Paces& paces,
                           const std::map<std::string, std::string>& settings,
                           const PlanOptions& options);

}  // namespace planning
}  // namespace batten

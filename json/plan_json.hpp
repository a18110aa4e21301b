// Plans, their next step and their reasons as JSON.
#pragma once

#include "app/plan_job.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten {

// "could-block", "beyond-limit", …
const char* hold_code(Hold::Reason reason);

struct PlanExtract {
  std::optional<Adjuster> pass;   // only this one
  std::optional<double> minutes;  // there are, as the plan was asked for
};

// Values are in the unit beside them; amounts in the adjuster's.
std::string to_json(const Piano& piano, const PianoPlan& plan, const PlanExtract& extract);
std::string next_to_json(const PianoPlan& plan);
std::string to_json(const Answered& answered);
std::string why_to_json(const PianoPlan& plan, Key key, Adjuster adjuster, const Instruction* step,
                        const std::vector<Because>& because);

}  // namespace batten

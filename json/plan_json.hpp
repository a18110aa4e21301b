// Plans, their next step and their reasons as JSON.
#pragma once

#include "app/plan_job.hpp"
#include "app/time_job.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace batten {

// "could-block", "beyond-limit", …
const char* hold_code(Hold::Reason reason);

struct PlanExtract {
  std::optional<Adjuster> pass;   // only this one
  std::optional<double> minutes;  // there are, as the plan was asked for
  // For a front end that has words of its own: steps without their sentences, no blanks.
  bool lean = false;
  std::optional<std::int64_t> revision = {};  // of the journal
};

// Values are in the unit beside them; amounts in the adjuster's.
std::string to_json(const Piano& piano, const PianoPlan& plan, const PlanExtract& extract);
std::string next_to_json(const PianoPlan& plan);
std::string to_json(const Answered& answered);
std::string why_to_json(const PianoPlan& plan, Key key, Adjuster adjuster, const Instruction* step,
                        const std::vector<Reason>& reasons);
// `whole`: the plan the curve was drawn from.
std::string time_to_json(const PianoPlan& whole, const std::vector<TimePoint>& curve,
                         std::int64_t revision);

}  // namespace batten

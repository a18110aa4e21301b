// Why, as codes and numbers with the English words beside them. Internal to json and to what adds
// its own answers.
#pragma once

#include "app/plan_job.hpp"
#include "json/values.hpp"

#include <string>
#include <string_view>

namespace batten {

Json to_values(const Hold& hold);
// {"spares":{"adjuster","tolerances"}|null,"disturbed_by":…|null}
Json to_values(const OrderPlace& place);
// {"code", facts …, "heading", "text"}
Json to_values(const Reason& reason, const WordStyle& style);

}  // namespace batten

// What was typed back from a bench sheet, as JSON.
#pragma once

#include "app/bench_job.hpp"

#include <string>

namespace batten {

// {"revision","written","already_there","lines":[{"line","note","words"}]}
std::string to_json(const TypedBack& back, PageStyle style);
// {"problem":{…},"lines":[{"line","text","happened","todo"}]}: the lines as typed, from 1.
std::string to_json(const NotTypedBack& refused);

}  // namespace batten

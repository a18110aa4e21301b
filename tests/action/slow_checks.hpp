// Trade arithmetic and experience (ids R and T) against the slow readings.
#pragma once

#include "checks.hpp"

namespace batten::action::checks {

std::vector<Check> slow_checks();

}  // namespace batten::action::checks

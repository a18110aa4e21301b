// One number of a profile, as text.
#pragma once

#include "core/outcome/outcome.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace batten::profile_text {

// "257 mm" for 0.257 with unit "mm" of 0.001: shortest text that gives the number back.
std::string print_value(double si, std::string_view unit, double unit_si);

// SI value of a text such as "257 mm", "0.257 m", "39 gf" or "257" (then in `unit`). Error: no
// number, or of another unit.
Result<double> parse_value(std::string_view text, std::string_view unit, double unit_si);

// The known code nearest to `typed` by letters inserted, left out, changed or swapped with the
// next; empty if none is near.
std::string_view nearest(std::string_view typed, const std::vector<std::string_view>& known);

}  // namespace batten::profile_text

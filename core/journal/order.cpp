#include "core/journal/order.hpp"

#include <algorithm>

namespace batten {

std::int64_t held_clock_ms(std::int64_t at_ms) {
  return std::clamp<std::int64_t>(at_ms, 1, latest_clock_ms);
}

std::int64_t next_stamp(std::int64_t last, std::int64_t at_ms) {
  return std::max(held_clock_ms(at_ms), last + 1);
}

}  // namespace batten

// Random actions and what may be wanted of them, the same on every machine.
#pragma once

#include "core/action/regulate.hpp"

#include <cstdint>
#include <vector>

namespace batten::action::checks {

class Chance {
 public:
  explicit Chance(std::uint64_t seed) : state_(seed) {}
  // Uniform in [low, high).
  double between(double low, double high);

 private:
  std::uint64_t state_;
};

struct RandomActions {
  std::vector<Dimensions> dimensions;
  std::vector<Wanted> wanted;
};
// Every dimension within `spread` of itself (0.02: 2 %) around `middle`, strings aside; wanted
// within the handbook spans (checks R7: three makers' sheets and workshop articles), drop from 0.8
// mm.
RandomActions random_actions(const Dimensions& middle, int count, double spread,
                             std::uint64_t seed);

}  // namespace batten::action::checks

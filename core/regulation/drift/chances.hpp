// The normal distribution, quickly, and numbers drawn from it once and for all. Internal to
// core/regulation/drift.
#pragma once

#include <cstddef>
#include <span>

namespace batten::drift {

// Standard normal distribution function from a table: within 3e-7, 0 and 1 beyond ±6.
class Normal {
 public:
  Normal();
  double below(double x) const {
    if (!(x > -reach)) return 0;
    if (x >= reach) return 1;
    const double at = (x + reach) * steps_a_unit;
    const auto i = static_cast<std::size_t>(at);
    return table_[i] + (at - static_cast<double>(i)) * (table_[i + 1] - table_[i]);
  }
  // Chance to lie outside target ± tolerance.
  double outside(double mean, double sd, double target, double tolerance) const {
    const double off = mean - target;
    return below((-tolerance - off) / sd) + below((off - tolerance) / sd);
  }

 private:
  static constexpr double reach = 6;
  static constexpr int steps_a_unit = 512;
  const double* table_;  // made once, kept for good
};

// How many futures are drawn, half of them mirrored.
inline constexpr std::size_t drawn = 200;

// Standard normal numbers, the same every time (splitmix64, Box–Muller); `at` wraps around.
double fixed_normal(std::size_t at);

// Of a list in any order, which is changed: its p-quantile (nearest rank, 0…1). Not empty.
double quantile(std::span<double> values, double p);

}  // namespace batten::drift

#include "core/regulation/drift/chances.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

namespace batten::drift {

namespace {

// Vigna's finaliser over a counter (public domain).
std::uint64_t mixed(std::uint64_t n) {
  std::uint64_t z = (n + 1) * 0x9e3779b97f4a7c15u;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

double uniform(std::uint64_t n) { return (static_cast<double>(mixed(n) >> 11) + 0.5) * 0x1.0p-53; }

constexpr std::size_t kept = 32768;

const std::vector<double>& normal_table() {
  static const std::vector<double> table = [] {
    std::vector<double> t(kept);
    for (std::size_t i = 0; i < kept; ++i)
      t[i] = std::sqrt(-2 * std::log(uniform(2 * i))) *
             std::cos(2 * std::numbers::pi * uniform(2 * i + 1));
    return t;
  }();
  return table;
}

}  // namespace

Normal::Normal() {
  static const std::vector<double> table = [] {
    std::vector<double> t(static_cast<std::size_t>(2 * reach) * steps_a_unit + 2);
    for (std::size_t i = 0; i < t.size(); ++i)
      t[i] =
          0.5 * std::erfc(-(static_cast<double>(i) / steps_a_unit - reach) / std::numbers::sqrt2);
    return t;
  }();
  table_ = table.data();
}

double fixed_normal(std::size_t at) {
  static const std::vector<double>& table = normal_table();
  return table[at % kept];
}

double quantile(std::span<double> values, double p) {
  const auto last = static_cast<double>(values.size() - 1);
  const auto at = static_cast<std::ptrdiff_t>(std::lround(std::clamp(p, 0.0, 1.0) * last));
  std::nth_element(values.begin(), values.begin() + at, values.end());
  return values[static_cast<std::size_t>(at)];
}

}  // namespace batten::drift

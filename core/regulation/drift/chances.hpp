// The normal distribution, quickly, and numbers drawn from it once and for all. Internal to
// core/regulation/drift.
#pragma once

#include <cstddef>
#include <span>

namespace batten::drift {

// Standard normal distribution function; within 3e-7, 0 and 1 beyond ±6.
double normal_below(double x);

// How many futures are drawn, half of them mirrored.
inline constexpr std::size_t drawn = 200;

// Standard normal numbers, the same every time (splitmix64, Box–Muller); `at` wraps around.
double fixed_normal(std::size_t at);

// Of a list in any order, which is changed: its p-quantile (nearest rank, 0…1). Not empty.
double quantile(std::span<double> values, double p);

}  // namespace batten::drift

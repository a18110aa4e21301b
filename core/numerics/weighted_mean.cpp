#include "core/numerics/weighted_mean.hpp"

#include <cassert>
#include <cmath>

namespace batten {

Repeats repeats(std::span<const double> readings) {
  Repeats result;
  result.count = static_cast<int>(readings.size());
  if (readings.empty()) return result;
  const double count = static_cast<double>(readings.size());
  // Differences from the first reading keep the digits of heights that agree in all but the last.
  double sum = 0;
  for (const double reading : readings) sum += reading - readings.front();
  result.mean = readings.front() + sum / count;
  if (readings.size() < 2) return result;
  double squares = 0;
  for (const double reading : readings)
    squares += (reading - result.mean) * (reading - result.mean);
  result.sd = std::sqrt(squares / (count - 1));
  result.sd_of_mean = result.sd / std::sqrt(count);
  return result;
}

double sd_of_rectangle(double half_width) { return half_width / std::sqrt(3.0); }

double sd_of_triangle(double half_width) { return half_width / std::sqrt(6.0); }

double combined_sd(std::span<const double> contributions) {
  double total = 0;
  for (const double contribution : contributions) total = std::hypot(total, contribution);
  return total;
}

double effective_degrees_of_freedom(std::span<const Contribution> contributions) {
  double combined = 0;
  for (const Contribution& one : contributions) combined = std::hypot(combined, one.sd);
  if (combined == 0) return std::numeric_limits<double>::quiet_NaN();
  double sum = 0;
  for (const Contribution& one : contributions) {
    assert(one.degrees_of_freedom > 0);
    const double share = one.sd / combined;
    sum += share * share * share * share / one.degrees_of_freedom;
  }
  return 1 / sum;
}

WeightedMean weighted_mean(std::span<const double> readings, std::span<const double> sds) {
  assert(readings.size() == sds.size());
  WeightedMean result;
  result.count = static_cast<int>(readings.size());
  if (readings.empty()) return result;
  double weights = 0;
  double sum = 0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    assert(sds[i] > 0);
    const double weight = 1 / (sds[i] * sds[i]);
    weights += weight;
    sum += weight * (readings[i] - readings.front());
  }
  result.mean = readings.front() + sum / weights;
  result.stated_sd = 1 / std::sqrt(weights);
  if (readings.size() < 2) return result;
  double chi_squared = 0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double ratio = (readings[i] - result.mean) / sds[i];
    chi_squared += ratio * ratio;
  }
  result.birge_ratio = std::sqrt(chi_squared / static_cast<double>(readings.size() - 1));
  return result;
}

}  // namespace batten

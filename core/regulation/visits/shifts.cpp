#include "core/numerics/distributions.hpp"
#include "core/regulation/visits/visits.hpp"

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

struct Weighed {
  double mean = 0, weight = 0, square = 0;  // weight: their sum; square: weighted, about the mean
};

Weighed weigh(const std::vector<NoteDifference>& notes, double own_variance) {
  Weighed w;
  double sum = 0;
  for (const NoteDifference& n : notes) {
    const double weight = 1 / (n.sd * n.sd + own_variance);
    w.weight += weight;
    sum += weight * n.value;
  }
  w.mean = sum / w.weight;
  for (const NoteDifference& n : notes)
    w.square += (n.value - w.mean) * (n.value - w.mean) / (n.sd * n.sd + own_variance);
  return w;
}

// DerSimonian and Laird's estimate from the moments.
double own_variance(const std::vector<NoteDifference>& notes, const Weighed& fixed) {
  double squares = 0;
  for (const NoteDifference& n : notes) squares += 1 / std::pow(n.sd, 4);
  const double scale = fixed.weight - squares / fixed.weight;
  const auto degrees = static_cast<double>(notes.size()) - 1;
  return scale > 0 ? std::max(0.0, (fixed.square - degrees) / scale) : 0;
}

}  // namespace

Shift shift_of(const std::vector<NoteDifference>& notes) {
  Shift out;
  out.notes = static_cast<int>(notes.size());
  const auto [low, high] = std::ranges::minmax_element(notes, {}, &NoteDifference::key);
  out.first = low->key;
  out.last = high->key;
  const Weighed fixed = weigh(notes, 0);
  if (notes.size() == 1) {
    out.mean = fixed.mean;
    out.error = notes.front().sd;
    out.chance = normal_beyond(out.mean / out.error);
    return out;
  }
  const auto degrees = static_cast<double>(notes.size()) - 1;
  const double own = own_variance(notes, fixed);
  const Weighed all = weigh(notes, own);
  out.mean = all.mean;
  out.error = std::sqrt(std::max(1.0, all.square / degrees) / all.weight);
  out.chance = student_beyond(out.mean / out.error, degrees);
  if (notes.size() < 3) return out;
  out.spread = std::sqrt(own);
  out.spread_chance = chi_squared_above(fixed.square, degrees);
  return out;
}

int mark_findings(const std::vector<std::vector<Shift>*>& families) {
  std::vector<double> chances;
  for (const auto* shifts : families)
    for (const Shift& s : *shifts) {
      chances.push_back(s.chance);
      if (s.spread) chances.push_back(s.spread_chance);
    }
  const auto found = findings_at_rate(chances, false_finding_rate);
  std::size_t at = 0;
  for (auto* shifts : families)
    for (Shift& s : *shifts) {
      // What is told as a figure with its error is not called one inside two of them.
      s.beyond_noise = found[at++] && std::abs(s.mean) > 2 * s.error;
      if (s.spread) s.spread_beyond_noise = found[at++];
    }
  return static_cast<int>(chances.size());
}

}  // namespace batten

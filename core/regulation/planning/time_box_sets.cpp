#include "core/regulation/planning/time_box_sets.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <tuple>

namespace batten::time_box {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double same = 1e-9;  // share of a value within which two are one
constexpr int most_prices = 16;

// Minutes and cost of the choice that attains a pricing's best value; of several, the quickest.
void attain(const Model& model, Pricing& pricing) {
  pricing.minutes = model.set_up(pricing.best);
  pricing.cost = 0;
  for (std::size_t n = 0; n < model.notes.size(); ++n) {
    double least = infinite;
    const Option* chosen = nullptr;
    for (const Option& o : model.notes[n]) {
      const double value = o.cost + pricing.price * o.minutes;
      if (!Model::allowed(o, pricing.best, model.leads[n]) || value >= least) continue;
      least = value;
      chosen = &o;
    }
    assert(chosen != nullptr);
    pricing.minutes += chosen->minutes;
    pricing.cost += chosen->cost;
  }
}

// value[set] becomes the least over the subsets that differ from it in `free` passes only.
void take_least_of_subsets(std::vector<double>& value, Passes free, std::size_t pass_count) {
  for (std::size_t p = 0; p < pass_count; ++p) {
    if ((free >> p & 1U) == 0) continue;
    const std::size_t step = std::size_t{1} << p;
    for (std::size_t block = 0; block < value.size(); block += 2 * step) {
      double* without = value.data() + block;
      double* with = without + step;
      for (std::size_t i = 0; i < step; ++i) with[i] = std::min(with[i], without[i]);
    }
  }
}

}  // namespace

Sets::Sets(const Model& model) : model_(model) {
  assert(model.pass_count <= most_passes);
  const std::size_t count = std::size_t{1} << model.pass_count;
  set_up_.reserve(count);
  for (std::size_t s = 0; s < count; ++s) set_up_.push_back(model.set_up(static_cast<Passes>(s)));
  note_.resize(count);
}

Pricing Sets::price(double price) {
  Pricing pricing;
  pricing.price = price;
  pricing.value = set_up_;
  for (double& v : pricing.value) v *= price;
  for (std::size_t n = 0; n < model_.notes.size(); ++n) {
    const Passes leads = model_.leads[n];
    std::ranges::fill(note_, infinite);
    for (const Option& o : model_.notes[n])
      note_[o.passes] = std::min(note_[o.passes], o.cost + price * o.minutes);
    take_least_of_subsets(note_, model_.all() & ~leads, model_.pass_count);
    for (std::size_t s = 0; s < note_.size(); ++s) pricing.value[s] += note_[s];
  }
  const auto best = std::ranges::min_element(pricing.value);
  pricing.best = static_cast<Passes>(best - pricing.value.begin());
  attain(model_, pricing);
  return pricing;
}

Pricing Sets::nothing() const {
  Pricing pricing;
  for (const auto& options : model_.notes) pricing.cost += options[idle(options)].cost;
  return pricing;
}

Pricing Sets::best_price(double minutes) {
  Pricing above = price(0);  // takes longer than there is
  if (above.minutes <= minutes) return above;
  Pricing best = above;
  const auto bound = [&](const Pricing& p) { return p.value[p.best] - p.price * minutes; };
  Pricing below = nothing();
  for (int i = 0; i < most_prices; ++i) {
    const double span = above.minutes - below.minutes, gain = below.cost - above.cost;
    if (!(span > 0 && gain > 0)) break;
    Pricing middle = price(gain / span);
    if (bound(middle) > bound(best)) best = middle;
    const double line = below.cost + middle.price * below.minutes;
    if (middle.value[middle.best] >= line - same * (1 + std::fabs(line))) break;
    (middle.minutes > minutes ? above : below) = std::move(middle);
  }
  return best;
}

std::vector<Pricing> Sets::sweep(std::size_t most) {
  struct Gap {
    double minutes_low, cost_low, minutes_high, cost_high;
    double size() const { return (minutes_high - minutes_low) * (cost_low - cost_high); }
  };
  std::vector<Pricing> all{price(0)};
  const Pricing start = nothing();
  std::vector<Gap> gaps{{start.minutes, start.cost, all[0].minutes, all[0].cost}};
  while (!gaps.empty() && all.size() < most) {
    const auto widest = std::ranges::max_element(gaps, {}, &Gap::size);
    const Gap gap = *widest;
    gaps.erase(widest);
    const double span = gap.minutes_high - gap.minutes_low, gain = gap.cost_low - gap.cost_high;
    if (!(span > 0 && gain > 0)) continue;
    all.push_back(price(gain / span));
    const Pricing& p = all.back();
    const double line = gap.cost_low + p.price * gap.minutes_low;
    if (p.value[p.best] >= line - same * (1 + std::fabs(line))) continue;
    gaps.push_back({gap.minutes_low, gap.cost_low, p.minutes, p.cost});
    gaps.push_back({p.minutes, p.cost, gap.minutes_high, gap.cost_high});
  }
  return all;
}

std::vector<Priced> list_sets(const Pricing& pricing, double limit, std::size_t most) {
  std::vector<Priced> sets;
  for (std::size_t s = 0; s < pricing.value.size(); ++s) {
    if (pricing.value[s] < limit) sets.push_back({static_cast<Passes>(s), pricing.value[s]});
  }
  const std::size_t kept = std::min(most, sets.size());
  std::ranges::partial_sort(sets, sets.begin() + static_cast<std::ptrdiff_t>(kept),
                            [](const Priced& a, const Priced& b) {
                              return std::tie(a.value, a.passes) < std::tie(b.value, b.passes);
                            });
  sets.resize(kept);
  return sets;
}

}  // namespace batten::time_box

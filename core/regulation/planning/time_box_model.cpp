#include "core/regulation/planning/time_box_model.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <tuple>

namespace batten::time_box {
namespace {

Passes bit(std::size_t pass) { return Passes{1} << pass; }

// A pass and all it needs, and all these need.
Passes closure(const TimeBoxTask& task, Passes passes) {
  if (task.needs.empty()) return passes;
  for (Passes before = 0; before != passes;) {
    before = passes;
    for (std::size_t p = 0; p < task.needs.size(); ++p) {
      if ((passes & bit(p)) != 0) passes |= task.needs[p];
    }
  }
  return passes;
}

double price_of(const std::vector<double>& price, Passes passes) {
  double sum = 0;
  for (; passes != 0; passes &= passes - 1)
    sum += price[static_cast<std::size_t>(std::countr_zero(passes))];
  return sum;
}

// The new number of each pass that matters, in the task's order; its bit in the model.
Passes renumber(Passes passes, const std::vector<std::size_t>& kept) {
  Passes renumbered = 0;
  for (std::size_t i = 0; i < kept.size(); ++i) {
    if ((passes & bit(kept[i])) != 0) renumbered |= bit(i);
  }
  return renumbered;
}

// `a` can stand in for `b` wherever `b` can stand.
bool replaces(const Option& a, const Option& b, Passes leads) {
  return (a.passes & ~b.passes) == 0 && ((a.passes ^ b.passes) & leads) == 0 &&
         a.minutes <= b.minutes && a.cost <= b.cost;
}

std::vector<Option> thin_out(std::vector<Option> options, Passes leads) {
  std::ranges::sort(options, [](const Option& a, const Option& b) {
    const auto key = [](const Option& o) {
      return std::tuple(o.minutes, o.cost, std::popcount(o.passes), o.bundle);
    };
    return key(a) < key(b);
  });
  std::vector<Option> kept;
  for (const Option& o : options) {
    const bool pointless =
        std::ranges::any_of(kept, [&](const Option& k) { return replaces(k, o, leads); });
    if (!pointless) kept.push_back(o);
  }
  return kept;
}

}  // namespace

double Model::set_up(Passes passes) const {
  Passes opened = 0;
  for (; passes != 0; passes &= passes - 1)
    opened |= opens[static_cast<std::size_t>(std::countr_zero(passes))];
  return price_of(price, opened);
}

std::size_t idle(const std::vector<Option>& options) {
  const auto found = std::ranges::find_if(
      options, [](const Option& o) { return o.passes == 0 && o.minutes == 0; });
  assert(found != options.end());
  return static_cast<std::size_t>(found - options.begin());
}

Model make_model(const TimeBoxTask& task) {
  Passes worked = 0, led = 0;
  for (const auto& bundles : task.notes) {
    for (const Bundle& b : bundles) worked |= b.passes;
  }
  for (const Passes leads : task.leads) led |= leads;

  Model model;
  model.price = task.set_up;
  std::vector<std::size_t> kept;
  for (std::size_t p = 0; p < task.set_up.size(); ++p) {
    if ((worked & bit(p)) == 0) continue;
    const Passes opened = closure(task, bit(p));
    if ((led & bit(p)) == 0 && !(price_of(task.set_up, opened) > 0)) continue;
    kept.push_back(p);
    model.opens.push_back(opened);
  }
  model.pass_count = kept.size();
  for (std::size_t n = 0; n < task.notes.size(); ++n) {
    model.leads.push_back(task.leads.empty() ? 0 : renumber(task.leads[n], kept));
    std::vector<Option> options;
    for (std::size_t b = 0; b < task.notes[n].size(); ++b) {
      const Bundle& bundle = task.notes[n][b];
      options.push_back({renumber(bundle.passes, kept), bundle.minutes, bundle.cost, b});
    }
    model.notes.push_back(thin_out(std::move(options), model.leads.back()));
  }
  return model;
}

TimeBoxChoice as_choice(const TimeBoxTask& task, const Model& model,
                        const std::vector<std::size_t>& options) {
  TimeBoxChoice choice;
  for (std::size_t n = 0; n < options.size(); ++n) {
    const std::size_t b = model.notes[n][options[n]].bundle;
    const Bundle& bundle = task.notes[n][b];
    choice.bundle.push_back(b);
    choice.passes |= bundle.passes;
    choice.minutes += bundle.minutes;
    choice.cost += bundle.cost;
  }
  choice.passes = closure(task, choice.passes);
  choice.minutes += price_of(task.set_up, choice.passes);
  return choice;
}

}  // namespace batten::time_box

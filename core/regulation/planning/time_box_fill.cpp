// The knapsack that is left when the passes are fixed.
#include "core/regulation/planning/time_box_model.hpp"

#include <algorithm>
#include <cassert>
#include <limits>

namespace batten::time_box {
namespace {

constexpr double slack = 1e-9;  // minutes and cost: sums in another order
constexpr double infinite = std::numeric_limits<double>::infinity();

double steepness(const Option& from, const Option& to) {
  return (from.cost - to.cost) / (to.minutes - from.minutes);
}

// The lower convex hull of a note's allowed options, from the quickest on; appended as steps.
// Source: Andrew's monotone chain, Information Processing Letters 9 (1979).
void add_hull(const std::vector<Option>& options, std::uint32_t note, Passes passes, Passes leads,
              std::vector<std::uint32_t>& hull, Frontier& frontier) {
  hull.clear();
  for (std::uint32_t i = 0; i < options.size(); ++i) {
    const Option& here = options[i];
    if (!Model::allowed(here, passes, leads)) continue;
    if (!hull.empty() && here.cost >= options[hull.back()].cost) continue;
    while (hull.size() > 1 && steepness(options[hull[hull.size() - 2]], options[hull.back()]) <=
                                  steepness(options[hull.back()], here))
      hull.pop_back();
    hull.push_back(i);
  }
  if (hull.empty()) {
    frontier.possible = false;
    return;
  }
  frontier.foot.push_back(hull.front());
  frontier.minutes += options[hull.front()].minutes;
  frontier.cost += options[hull.front()].cost;
  for (std::size_t h = 1; h < hull.size(); ++h) {
    const Option &from = options[hull[h - 1]], &to = options[hull[h]];
    frontier.steps.push_back(
        {to.minutes - from.minutes, from.cost - to.cost, steepness(from, to), note, hull[h]});
  }
}

template <class Take>
Filling go_up(const Frontier& frontier, double minutes, std::vector<bool>& stopped, Take take) {
  Filling filling;
  double left = minutes - frontier.minutes;
  if (!frontier.possible || left < -slack) return filling;
  filling.fits = true;
  filling.cost = filling.bound = frontier.cost;
  bool relaxed = true;  // still along the relaxation
  for (const Step& step : frontier.steps) {
    const bool fits = step.minutes <= left + slack;
    if (relaxed) {
      filling.bound -= fits ? step.gain : std::max(0.0, left) * step.steepness;
      if (!fits) {
        relaxed = false;
        filling.price = step.steepness;
        stopped.assign(frontier.foot.size(), false);
      }
    } else if (stopped[step.note]) {
      continue;
    }
    if (!fits) {
      stopped[step.note] = true;
      continue;
    }
    left -= step.minutes;
    filling.cost -= step.gain;
    take(step);
  }
  filling.minutes = minutes - left;
  return filling;
}

// One note whose option is still open.
struct Open {
  std::size_t note = 0;
  std::vector<std::uint32_t> options;
  double least_minutes = infinite;
};

// A combination of the open notes so far; `over` is its summed reduced cost.
struct State {
  double minutes = 0, over = 0;
  std::uint32_t parent = 0, option = 0;
  double cost = 0;
};

bool quicker(const State& a, const State& b) {
  return a.minutes < b.minutes || (a.minutes == b.minutes && a.cost < b.cost);
}

// All of `before` with one more note, undominated, within `most_minutes` and `most_over`.
class Layer {
 public:
  void extend(const Layer& before, const std::vector<Option>& options, const Open& note,
              const std::vector<double>& over, double most_minutes, double most_over) {
    states.clear();
    for (std::size_t k = 0; k < note.options.size(); ++k) {
      const Option& o = options[note.options[k]];
      added.clear();
      for (std::uint32_t i = 0; i < before.states.size(); ++i) {
        const State& s = before.states[i];
        const State next{s.minutes + o.minutes, s.over + over[k], i, note.options[k],
                         s.cost + o.cost};
        if (next.minutes <= most_minutes + slack && next.over <= most_over) added.push_back(next);
      }
      merged.clear();
      std::ranges::merge(states, added, std::back_inserter(merged), quicker);
      states.swap(merged);
    }
    double least = infinite;
    std::erase_if(states, [&](const State& s) {
      if (s.cost >= least) return true;
      least = s.cost;
      return false;
    });
  }

  // Keeps those nearest to the relaxation. True: some had to go.
  bool cut(std::size_t most) {
    if (states.size() <= most) return false;
    std::vector<double> overs;
    overs.reserve(states.size());
    for (const State& s : states) overs.push_back(s.over);
    const auto nth = overs.begin() + static_cast<std::ptrdiff_t>(most) - 1;
    std::ranges::nth_element(overs, nth);
    std::erase_if(states, [limit = *nth](const State& s) { return s.over > limit; });
    return true;
  }

  std::vector<State> states;

 private:
  std::vector<State> added, merged;
};

}  // namespace

Frontier calc_frontier(const Model& model, Passes passes) {
  Frontier frontier;
  frontier.passes = passes;
  frontier.possible = true;
  frontier.minutes = model.set_up(passes);
  frontier.foot.reserve(model.notes.size());
  std::vector<std::uint32_t> hull;
  for (std::uint32_t n = 0; n < model.notes.size() && frontier.possible; ++n)
    add_hull(model.notes[n], n, passes, model.leads[n], hull, frontier);
  if (!frontier.possible) return frontier;
  // A note's own steps fall in steepness, strictly: their order stays.
  std::ranges::sort(frontier.steps, [](const Step& a, const Step& b) {
    return a.steepness > b.steepness || (a.steepness == b.steepness && a.note < b.note);
  });
  return frontier;
}

Filling fill(const Frontier& frontier, double minutes) {
  std::vector<bool> stopped;
  return go_up(frontier, minutes, stopped, [](const Step&) {});
}

std::vector<std::size_t> fill_options(const Frontier& frontier, double minutes) {
  std::vector<bool> stopped;
  std::vector<std::size_t> options(frontier.foot.begin(), frontier.foot.end());
  go_up(frontier, minutes, stopped, [&](const Step& s) { options[s.note] = s.to; });
  return options;
}

Improved improve(const Model& model, const Frontier& frontier, double minutes, double below,
                 std::size_t most_states) {
  Improved result;
  const Filling filling = fill(frontier, minutes);
  const double gap = below - filling.bound;
  if (!filling.fits || gap <= 0) {
    result.proven = true;
    return result;
  }
  std::vector<std::size_t> options(model.notes.size());
  double left = minutes - model.set_up(frontier.passes), fixed_cost = 0;
  std::vector<Open> open;
  std::vector<std::vector<double>> over;
  for (std::size_t n = 0; n < model.notes.size(); ++n) {
    double least = infinite;
    const auto reduced = [&](const Option& o) { return o.cost + filling.price * o.minutes; };
    const auto allowed = [&](const Option& o) {
      return Model::allowed(o, frontier.passes, model.leads[n]);
    };
    for (const Option& o : model.notes[n]) {
      if (allowed(o)) least = std::min(least, reduced(o));
    }
    Open here{n, {}, infinite};
    std::vector<double> over_here;
    for (std::uint32_t i = 0; i < model.notes[n].size(); ++i) {
      const Option& o = model.notes[n][i];
      if (!allowed(o) || reduced(o) - least > gap) continue;
      here.options.push_back(i);
      here.least_minutes = std::min(here.least_minutes, o.minutes);
      over_here.push_back(reduced(o) - least);
    }
    assert(!here.options.empty());
    if (here.options.size() == 1) {
      options[n] = here.options.front();
      left -= model.notes[n][options[n]].minutes;
      fixed_cost += model.notes[n][options[n]].cost;
    } else {
      open.push_back(std::move(here));
      over.push_back(std::move(over_here));
    }
  }

  double least_later = 0;
  for (const Open& o : open) least_later += o.least_minutes;
  std::vector<Layer> layers(open.size() + 1);
  layers[0].states.push_back({});
  bool cut = false;
  for (std::size_t k = 0; k < open.size(); ++k) {
    least_later -= open[k].least_minutes;
    layers[k + 1].extend(layers[k], model.notes[open[k].note], open[k], over[k], left - least_later,
                         gap);
    cut = layers[k + 1].cut(most_states) || cut;
  }
  result.proven = !cut;
  const std::vector<State>& last = layers.back().states;
  if (last.empty() || left < -slack) return result;
  // Undominated and rising in minutes: the last is the cheapest.
  result.cost = fixed_cost + last.back().cost;
  result.found = result.cost < below - slack;
  if (!result.found) return result;
  std::size_t at = last.size() - 1;
  for (std::size_t k = open.size(); k > 0; --k) {
    const State& s = layers[k].states[at];
    options[open[k - 1].note] = s.option;
    at = s.parent;
  }
  result.options = std::move(options);
  return result;
}

}  // namespace batten::time_box

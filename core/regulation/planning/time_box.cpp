#include "core/regulation/planning/time_box.hpp"

#include "core/regulation/planning/time_box_model.hpp"
#include "core/regulation/planning/time_box_sets.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <string>

namespace batten {
namespace {

using time_box::Frontier;
using time_box::Model;
using time_box::Passes;
using time_box::Pricing;
using time_box::Sets;

constexpr std::size_t most_passes = 24, most_notes = 128, most_bundles = 256;
// How many sets of passes are looked at closely, and how many of those searched; how many
// combinations at a time. More brings nothing on the cases of docs/theory/time-box.md.
constexpr std::size_t most_frontiers = 64, most_searched = 6, most_states = 1200;
constexpr std::size_t most_swept = 24, sets_per_price = 6;
constexpr double close_enough = 1e-9;

bool is_amount(double x) { return std::isfinite(x) && x >= 0; }

Result<void> check_note(const std::vector<Bundle>& bundles, std::size_t pass_count,
                        std::size_t note) {
  const std::string name = "Note " + std::to_string(note + 1) + " of the time box";
  if (bundles.empty() || bundles.size() > most_bundles)
    return problem(name + " must have 1 to 256 ways to be treated.");
  if (bundles.front().passes != 0 || bundles.front().minutes != 0)
    return problem(name + " must have “nothing done” as its first.");
  for (const Bundle& b : bundles) {
    if (!is_amount(b.minutes) || !is_amount(b.cost))
      return problem(name + " has minutes or a cost that are no amount.");
    if (b.passes >> pass_count != 0) return problem(name + " has work in a pass there is not.");
  }
  return {};
}

Result<void> check(const TimeBoxTask& task) {
  if (task.notes.empty() || task.notes.size() > most_notes)
    return problem("A time box is for 1 to 128 notes.");
  if (task.set_up.size() > most_passes) return problem("A time box is for 24 passes at most.");
  if (!std::ranges::all_of(task.set_up, is_amount) || !is_amount(task.minutes))
    return problem("The minutes of a time box must not be negative.");
  if (!task.needs.empty() && task.needs.size() != task.set_up.size())
    return problem("What passes need must be given for each of them.");
  if (!task.leads.empty() && task.leads.size() != task.notes.size())
    return problem("The passes notes lead must be given for each note.");
  const auto known = [&](Passes passes) { return passes >> task.set_up.size() == 0; };
  if (!std::ranges::all_of(task.needs, known) || !std::ranges::all_of(task.leads, known))
    return problem("A pass is needed or led that there is not.");
  for (std::size_t n = 0; n < task.notes.size(); ++n) {
    if (auto checked = check_note(task.notes[n], task.set_up.size(), n); !checked) return checked;
  }
  return {};
}

struct Best {
  double cost = std::numeric_limits<double>::infinity();
  std::vector<std::size_t> options;
  double bound = 0;
};

Best nothing_done(const Model& model) {
  Best best;
  best.cost = 0;
  // Bundle 0 takes no minutes, so what stands in for it is first.
  best.options.assign(model.notes.size(), 0);
  for (const auto& options : model.notes) best.cost += options.front().cost;
  return best;
}

struct Candidate {
  Frontier frontier;
  time_box::Filling filling;
};

// Fills each, then searches the most promising. What was left unsearched lowers the bound.
void choose_among(const Model& model, std::vector<Frontier> frontiers, double minutes, Best& best) {
  std::vector<Candidate> candidates;
  for (Frontier& frontier : frontiers) {
    const auto filling = time_box::fill(frontier, minutes);
    if (!filling.fits) continue;
    if (filling.cost < best.cost) {
      best.cost = filling.cost;
      best.options = time_box::fill_options(frontier, minutes);
    }
    candidates.push_back({std::move(frontier), filling});
  }
  std::ranges::stable_sort(candidates, {}, [](const Candidate& c) { return c.filling.bound; });
  double unproven = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const Candidate& c = candidates[i];
    if (c.filling.bound >= best.cost - close_enough) break;
    bool proven = false;
    if (i < most_searched) {
      auto better = time_box::improve(model, c.frontier, minutes, best.cost, most_states);
      proven = better.proven;
      if (better.found) {
        best.cost = better.cost;
        best.options = std::move(better.options);
      }
    }
    if (!proven) unproven = std::min(unproven, c.filling.bound);
  }
  best.bound = std::min(best.bound, unproven);
}

Best solve_tabled(const Model& model, double minutes) {
  Sets sets(model);
  const Pricing pricing = sets.best_price(minutes);
  const double spent = pricing.price * minutes;
  Best best = nothing_done(model);
  best.bound = std::numeric_limits<double>::infinity();
  // A first choice, so that fewer sets remain below it.
  std::vector<Frontier> first;
  for (const auto& set : time_box::list_sets(pricing, best.cost + spent, sets_per_price))
    first.push_back(time_box::calc_frontier(model, set.passes));
  for (const Frontier& frontier : first) {
    const auto filling = time_box::fill(frontier, minutes);
    if (!filling.fits || filling.cost >= best.cost) continue;
    best.cost = filling.cost;
    best.options = time_box::fill_options(frontier, minutes);
  }
  const auto promising = time_box::list_sets(pricing, best.cost + spent, most_frontiers + 1);
  std::vector<Frontier> frontiers;
  for (std::size_t i = 0; i < std::min(promising.size(), most_frontiers); ++i)
    frontiers.push_back(time_box::calc_frontier(model, promising[i].passes));
  if (promising.size() > most_frontiers) best.bound = promising.back().value - spent;
  choose_among(model, std::move(frontiers), minutes, best);
  best.bound = std::clamp(best.bound, 0.0, best.cost);
  return best;
}

Best solve_searched(const Model& model, double minutes) {
  Best best = nothing_done(model);
  choose_among(model, time_box::search_sets(model, minutes), minutes, best);
  best.bound = 0;
  return best;
}

TimeBoxChoice finish(const TimeBoxTask& task, const Model& model, const Best& best) {
  TimeBoxChoice choice = time_box::as_choice(task, model, best.options);
  // Where it is proven, the two agree to rounding.
  choice.bound = std::min(best.bound, choice.cost);
  return choice;
}

}  // namespace

Result<TimeBoxChoice> choose_in_time(const TimeBoxTask& task) {
  if (const auto checked = check(task); !checked) return tl::unexpected(checked.error());
  const Model model = time_box::make_model(task);
  const bool tabled = model.pass_count <= time_box::most_tabled;
  return finish(task, model,
                tabled ? solve_tabled(model, task.minutes) : solve_searched(model, task.minutes));
}

Result<std::vector<TimeBoxPoint>> time_box_curve(const TimeBoxTask& task,
                                                 const std::vector<double>& minutes) {
  if (const auto checked = check(task); !checked) return tl::unexpected(checked.error());
  if (!std::ranges::all_of(minutes, is_amount) || !std::ranges::is_sorted(minutes))
    return problem("The spans of a time curve must be amounts and rise.");
  const Model model = time_box::make_model(task);
  const bool tabled = model.pass_count <= time_box::most_tabled;

  std::vector<Frontier> frontiers;
  std::vector<Pricing> prices;
  std::set<Passes> seen;
  const auto keep = [&](Frontier frontier) {
    if (seen.insert(frontier.passes).second) frontiers.push_back(std::move(frontier));
  };
  if (tabled) {
    prices = Sets(model).sweep(most_swept);
    for (const Pricing& p : prices) {
      for (const auto& set :
           time_box::list_sets(p, std::numeric_limits<double>::infinity(), sets_per_price))
        keep(time_box::calc_frontier(model, set.passes));
    }
  } else {
    for (const double span : minutes) {
      for (Frontier& frontier : time_box::search_sets(model, span)) keep(std::move(frontier));
    }
  }

  std::vector<TimeBoxPoint> curve;
  Best best = nothing_done(model);
  for (const double span : minutes) {
    const Frontier* chosen = nullptr;
    for (const Frontier& frontier : frontiers) {
      const auto filling = time_box::fill(frontier, span);
      if (!filling.fits || filling.cost >= best.cost) continue;
      best.cost = filling.cost;
      chosen = &frontier;
    }
    if (chosen != nullptr) {
      best.options = time_box::fill_options(*chosen, span);
      auto better = time_box::improve(model, *chosen, span, best.cost, most_states);
      if (better.found) {
        best.cost = better.cost;
        best.options = std::move(better.options);
      }
    }
    best.bound = 0;
    for (const Pricing& p : prices)
      best.bound = std::max(best.bound, p.value[p.best] - p.price * span);
    curve.push_back({span, finish(task, model, best)});
  }
  return curve;
}

}  // namespace batten

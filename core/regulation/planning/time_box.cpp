#include "core/regulation/planning/time_box.hpp"

#include "core/regulation/planning/time_box_model.hpp"
#include "core/regulation/planning/time_box_sets.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <string>
#include <utility>

namespace batten {
namespace {

using time_box::Frontier;
using time_box::Model;
using time_box::Passes;
using time_box::Pricing;
using time_box::Sets;

constexpr std::size_t pass_bits = 32, most_notes = 128, most_bundles = 256;
// How many sets of passes are tried first, filled and searched, for 1,000 bundles in all; with
// fewer bundles more sets in the same time. More effort brings nothing on pianos, see
// docs/theory/time-box.md.
struct Effort {
  std::size_t first, filled, searched;
};
constexpr Effort for_one{6, 400, 20}, for_curve{6, 16, 1};
constexpr std::size_t most_states = 1200;  // combinations at a time
constexpr std::size_t most_swept = 24;     // prices along a curve
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
    if (std::uint64_t{b.passes} >> pass_count != 0)
      return problem(name + " has work in a pass there is not.");
  }
  return {};
}

Result<void> check(const TimeBoxTask& task) {
  if (task.notes.empty() || task.notes.size() > most_notes)
    return problem("A time box is for 1 to 128 notes.");
  if (task.set_up.size() > pass_bits) return problem("A time box is for 32 passes at most.");
  if (!std::ranges::all_of(task.set_up, is_amount) || !is_amount(task.minutes))
    return problem("The minutes of a time box must not be negative.");
  if (!task.needs.empty() && task.needs.size() != task.set_up.size())
    return problem("What passes need must be given for each of them.");
  if (!task.leads.empty() && task.leads.size() != task.notes.size())
    return problem("The passes notes lead must be given for each note.");
  const auto known = [&](Passes passes) {
    return std::uint64_t{passes} >> task.set_up.size() == 0;
  };
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
  for (const auto& options : model.notes) {
    best.options.push_back(time_box::idle(options));
    best.cost += options[best.options.back()].cost;
  }
  return best;
}

struct Candidate {
  const Frontier* frontier;
  time_box::Filling filling;
};

// The frontiers of the sets looked at, each calculated once.
class Frontiers {
 public:
  explicit Frontiers(const Model& model) : model_(model) {}
  const Frontier& of(Passes passes) {
    const auto found = known_.find(passes);
    if (found != known_.end()) return found->second;
    return known_.emplace(passes, time_box::calc_frontier(model_, passes)).first->second;
  }

 private:
  const Model& model_;
  std::map<Passes, Frontier> known_;  // keeps its places
};

// Fills every set and keeps the best. What was filled is returned, the least bound first.
std::vector<Candidate> fill_all(const std::vector<time_box::Priced>& sets, Frontiers& frontiers,
                                double minutes, Best& best) {
  std::vector<Candidate> filled;
  for (const time_box::Priced& set : sets) {
    const Frontier& frontier = frontiers.of(set.passes);
    const auto filling = time_box::fill(frontier, minutes);
    if (!filling.fits) continue;
    if (filling.cost < best.cost) {
      best.cost = filling.cost;
      best.options = time_box::fill_options(frontier, minutes);
    }
    filled.push_back({&frontier, filling});
  }
  std::ranges::sort(filled, {}, [](const Candidate& c) {
    return std::pair(c.filling.bound, c.frontier->passes);
  });
  return filled;
}

// Searches the most promising. What was left unsearched lowers the bound.
void search(const Model& model, const std::vector<Candidate>& filled, double minutes,
            std::size_t most, Best& best) {
  for (std::size_t i = 0; i < filled.size(); ++i) {
    const Candidate& c = filled[i];
    if (c.filling.bound >= best.cost - close_enough) break;
    bool proven = false;
    if (i < most) {
      auto better = time_box::improve(model, *c.frontier, minutes, best.cost, most_states);
      proven = better.proven;
      if (better.found) {
        best.cost = better.cost;
        best.options = std::move(better.options);
      }
    }
    if (!proven) best.bound = std::min(best.bound, c.filling.bound);
  }
}

std::size_t scaled(std::size_t effort, const Model& model) {
  std::size_t options = 0;
  for (const auto& note : model.notes) options += note.size();
  return std::max(effort, effort * 1000 / options);
}

// Improves `best`, of which only cost and options are taken, by what one pricing shows.
void choose_by(const Model& model, const Pricing& pricing, double minutes, const Effort& effort,
               Frontiers& frontiers, Best& best) {
  const double spent = pricing.price * minutes;
  // A few sets first, so that fewer remain below the best.
  fill_all(time_box::list_sets(pricing, best.cost + spent, effort.first), frontiers, minutes, best);
  const std::size_t most = scaled(effort.filled, model);
  auto sets = time_box::list_sets(pricing, best.cost + spent, most + 1);
  best.bound = std::numeric_limits<double>::infinity();
  if (sets.size() > most) {
    best.bound = sets.back().value - spent;
    sets.pop_back();
  }
  search(model, fill_all(sets, frontiers, minutes, best), minutes, scaled(effort.searched, model),
         best);
  best.bound = std::clamp(best.bound, 0.0, best.cost);
}

TimeBoxChoice finish(const TimeBoxTask& task, const Model& model, const Best& best) {
  TimeBoxChoice choice = time_box::as_choice(task, model, best.options);
  // Where it is proven, the two agree to rounding.
  choice.bound = std::min(best.bound, choice.cost);
  return choice;
}

Result<Model> checked_model(const TimeBoxTask& task) {
  if (const auto checked = check(task); !checked) return tl::unexpected(checked.error());
  Model model = time_box::make_model(task);
  if (model.pass_count > time_box::most_passes)
    return problem("A time box is for 16 passes that take time to set up.");
  return model;
}

}  // namespace

Result<TimeBoxChoice> choose_in_time(const TimeBoxTask& task) {
  const auto model = checked_model(task);
  if (!model) return tl::unexpected(model.error());
  const Pricing pricing = Sets(*model).best_price(task.minutes);
  Frontiers frontiers(*model);
  Best best = nothing_done(*model);
  choose_by(*model, pricing, task.minutes, for_one, frontiers, best);
  return finish(task, *model, best);
}

Result<std::vector<TimeBoxPoint>> time_box_curve(const TimeBoxTask& task,
                                                 const std::vector<double>& minutes) {
  const auto model = checked_model(task);
  if (!model) return tl::unexpected(model.error());
  if (!std::ranges::all_of(minutes, is_amount) || !std::ranges::is_sorted(minutes))
    return problem("The spans of a time curve must be amounts and rise.");
  const std::vector<Pricing> prices = Sets(*model).sweep(most_swept);
  Frontiers frontiers(*model);
  std::vector<TimeBoxPoint> curve;
  // What fits a shorter span fits a longer.
  Best best = nothing_done(*model);
  for (const double span : minutes) {
    const auto bound = [&](const Pricing& p) { return p.value[p.best] - p.price * span; };
    choose_by(*model, *std::ranges::max_element(prices, {}, bound), span, for_curve, frontiers,
              best);
    curve.push_back({span, finish(task, *model, best)});
  }
  return curve;
}

}  // namespace batten

#include "core/regulation/planning/rest.hpp"

#include "core/quantities/text.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <cmath>
#include <limits>
#include <numeric>

namespace batten {
namespace {

// Constant of frequency, ISO 11228-3:2007, table 2.
constexpr double reference_per_minute = 30;
// From memory, as is all below: ISO 11228-3:2007, annex C.
constexpr double acceptable_to = 2.2, borderline_to = 3.5;
// Of strain 0…3, taken as 0.5, 1, 2 and 3 on the CR-10 scale (estimate).
constexpr std::array force_multiplier{1.0, 0.85, 0.65, 0.35};
// Of 0, 1, … hours without adequate recovery.
constexpr std::array recovery_multiplier{1.0, 0.9, 0.8, 0.7, 0.6, 0.45, 0.25, 0.1};
constexpr double hour = 60;         // minutes
constexpr double least_pause = 8;   // a shorter one is no recovery
constexpr double early_pause = 10;  // so much before it is due, where a pass ends
constexpr std::size_t most_passes = 32, most_exact = 14;
constexpr double most_minutes = 24 * hour;
constexpr int straining = 2;

double duration_multiplier(double minutes) {
  if (minutes < 2 * hour) return 2;
  if (minutes < 4 * hour) return 1.5;
  return minutes <= 8 * hour ? 1 : 0.5;
}

double recovery_of(double hours_without) {
  const double last = static_cast<double>(recovery_multiplier.size() - 1);
  return recovery_multiplier[static_cast<std::size_t>(std::clamp(hours_without, 0.0, last))];
}

// The last hour before a pause or the end recovers in it.
double hours_without_recovery(double minutes_on_end) {
  return std::max(0.0, std::ceil(minutes_on_end / hour) - 1);
}

bool has(std::uint32_t passes, std::size_t pass) { return (passes >> pass & 1U) != 0; }
std::uint32_t bit(std::size_t pass) { return std::uint32_t{1} << pass; }

// The passes that load the hands, with what must come before each, those between included.
struct Work {
  std::vector<std::size_t> pass;
  std::vector<std::uint32_t> after;  // bits: places in `pass`
  std::vector<int> strain;
  std::size_t count() const { return pass.size(); }
};

// False: a ring.
bool close(std::vector<std::uint32_t>& after) {
  for (std::size_t through = 0; through < after.size(); ++through) {
    for (std::uint32_t& before : after) {
      if (has(before, through)) before |= after[through];
    }
  }
  for (std::size_t i = 0; i < after.size(); ++i) {
    if (has(after[i], i)) return false;
  }
  return true;
}

Work list_work(const std::vector<PassLoad>& passes, const std::vector<std::uint32_t>& after) {
  Work work;
  for (std::size_t i = 0; i < passes.size(); ++i) {
    if (passes[i].moves > 0 || passes[i].minutes > 0) work.pass.push_back(i);
  }
  for (const std::size_t i : work.pass) {
    work.strain.push_back(passes[i].strain);
    work.after.push_back(0);
    for (std::size_t k = 0; k < work.count(); ++k) {
      if (has(after[i], work.pass[k])) work.after.back() |= bit(k);
    }
  }
  return work;
}

// Least sum of strain × strain of the next over what is not yet done, for each set done and the one
// done last (Bellman's recursion); nothing is done: none is last.
class Alternation {
 public:
  explicit Alternation(const Work& work)
      : work_(work), left_(std::size_t{1} << work.count(), std::vector<int>(work.count() + 1, 0)) {
    const auto all = static_cast<std::uint32_t>(left_.size() - 1);
    for (std::uint32_t done = all; done-- > 0;) {
      for (std::size_t last = 0; last <= work.count(); ++last) {
        int least = std::numeric_limits<int>::max();
        for (std::size_t next = 0; next < work.count(); ++next)
          if (ready(done, next)) least = std::min(least, cost(done, last, next));
        left_[done][last] = least;
      }
    }
  }

  std::vector<std::size_t> order() const {
    std::vector<std::size_t> order;
    std::uint32_t done = 0;
    std::size_t last = work_.count();
    while (order.size() < work_.count()) {
      for (std::size_t next = 0; next < work_.count(); ++next) {
        if (!ready(done, next) || cost(done, last, next) != left_[done][last]) continue;
        done |= bit(next);
        last = next;
        break;
      }
      order.push_back(last);
    }
    return order;
  }

 private:
  bool ready(std::uint32_t done, std::size_t next) const {
    return !has(done, next) && (work_.after[next] & ~done) == 0;
  }
  int cost(std::uint32_t done, std::size_t last, std::size_t next) const {
    const int here = last < work_.count() ? work_.strain[last] * work_.strain[next] : 0;
    const int later = left_[done | bit(next)][next];
    // A set that cannot come about has nothing after it.
    return later == std::numeric_limits<int>::max() ? later : here + later;
  }

  const Work& work_;
  std::vector<std::vector<int>> left_;
};

std::vector<std::size_t> order_one_by_one(const Work& work) {
  std::vector<std::size_t> order;
  std::uint64_t done = 0;
  while (order.size() < work.count()) {
    std::size_t best = work.count();
    for (std::size_t next = 0; next < work.count(); ++next) {
      if ((done >> next & 1U) != 0 || (work.after[next] & ~done) != 0) continue;
      const int last = order.empty() ? 0 : work.strain[order.back()];
      if (best == work.count() || last * work.strain[next] < last * work.strain[best]) best = next;
    }
    assert(best < work.count());
    done |= std::uint64_t{1} << best;
    order.push_back(best);
  }
  return order;
}

std::vector<Pause> place_pauses(const std::vector<PassLoad>& passes,
                                const std::vector<std::size_t>& order, const RestOptions& options) {
  std::vector<Pause> pauses;
  double all = 0;
  for (const std::size_t i : order) all += passes[i].minutes;
  double due = options.stretch, end = 0;
  for (std::size_t k = 0; k < order.size(); ++k) {
    end += passes[order[k]].minutes;
    const auto pause = [&](double after) {
      pauses.push_back({after, order[k], options.pause});
      due = after + options.stretch;
    };
    while (due < end && due < all) pause(due);
    const double next_end = k + 1 < order.size() ? end + passes[order[k + 1]].minutes : end;
    if (end >= due - early_pause && next_end > due && end < all) pause(end);
  }
  return pauses;
}

Result<void> check(const std::vector<PassLoad>& passes, const RestOptions& options) {
  if (passes.size() > most_passes) return problem("Pauses are planned for 32 passes at most.");
  double all = 0;
  for (const PassLoad& p : passes) {
    if (!std::isfinite(p.moves) || !std::isfinite(p.minutes) || p.moves < 0 || p.minutes < 0)
      return problem("The moves and minutes of a pass must not be negative.");
    if (p.strain < 0 || p.strain > 3) return problem("The strain of a pass is 0 to 3.");
    if (std::uint64_t{p.after} >> passes.size() != 0)
      return problem("A pass is to come after one there is not.");
    all += p.minutes;
  }
  if (all > most_minutes)
    return problem("The work takes longer than a day.", "Plan the pauses of one day.");
  if (!(options.stretch >= 10 && options.stretch <= most_minutes) ||
      !(options.pause >= 1 && options.pause <= most_minutes) ||
      !(options.actions_per_move > 0 && options.actions_per_move <= 100))
    return problem("Pauses are 1 minute or more, after 10 minutes of work or more.");
  return {};
}

std::string list_minutes(const std::vector<Pause>& pauses) {
  std::string text;
  for (std::size_t i = 0; i < pauses.size(); ++i) {
    if (i > 0) text += i + 1 < pauses.size() ? ", " : " and ";
    text += print_number(pauses[i].after, {.decimals = 0});
  }
  return text;
}

}  // namespace

double ocra_index(double actions_per_minute, double multipliers) {
  assert(actions_per_minute >= 0 && multipliers > 0);
  return actions_per_minute / (reference_per_minute * multipliers);
}

HandClass hand_class_of(double index) {
  if (index <= acceptable_to) return HandClass::acceptable;
  return index <= borderline_to ? HandClass::borderline : HandClass::high;
}

Result<RestPlan> plan_rest(const std::vector<PassLoad>& passes, const RestOptions& options) {
  if (const auto checked = check(passes, options); !checked) return tl::unexpected(checked.error());
  std::vector<std::uint32_t> after;
  for (const PassLoad& p : passes) after.push_back(p.after);
  if (!close(after)) return problem("Passes wait for each other in a ring.");

  const Work work = list_work(passes, after);
  RestPlan plan;
  for (const std::size_t k :
       work.count() <= most_exact ? Alternation(work).order() : order_one_by_one(work))
    plan.order.push_back(work.pass[k]);
  plan.alternates = true;
  for (std::size_t k = 1; k < plan.order.size(); ++k) {
    if (passes[plan.order[k - 1]].strain >= straining && passes[plan.order[k]].strain >= straining)
      plan.alternates = false;
  }
  plan.pauses = place_pauses(passes, plan.order, options);

  double moves = 0, minutes = 0, eased = 0;
  for (const PassLoad& p : passes) {
    moves += p.moves;
    minutes += p.minutes;
    eased += p.minutes * force_multiplier[static_cast<std::size_t>(p.strain)];
  }
  plan.minutes = minutes + options.pause * static_cast<double>(plan.pauses.size());
  if (moves == 0) return plan;
  if (minutes == 0) return problem("Moves take time; there are none without minutes.");
  const double rate = moves * options.actions_per_move / minutes;
  const double steady = eased / minutes * duration_multiplier(minutes);
  plan.index_without_pauses =
      ocra_index(rate, steady * recovery_of(hours_without_recovery(minutes)));
  const bool recovers = options.pause >= least_pause;
  const double stretches = static_cast<double>(plan.pauses.size() + 1);
  const double longest = std::min(minutes, options.stretch);
  plan.index =
      recovers ? ocra_index(rate, steady * recovery_of(stretches * hours_without_recovery(longest)))
               : plan.index_without_pauses;
  plan.hand_class = hand_class_of(plan.index);
  return plan;
}

std::string print_rest(const RestPlan& plan) {
  constexpr std::array<std::string_view, 3> words{"acceptable", "borderline", "high"};
  const auto two = [](double x) { return print_number(x, {.decimals = 2}); };
  std::string text = "Repetitive handwork index " + two(plan.index) + ", " +
                     std::string(words[static_cast<std::size_t>(plan.hand_class)]) +
                     " (2.2 and below is called acceptable)";
  if (plan.pauses.empty()) {
    text += "; no pause is due before the end.";
  } else {
    text += ": pause " + print_number(plan.pauses.front().minutes, {.decimals = 0}) +
            "\u202fmin after " + list_minutes(plan.pauses) + "\u202fmin of work";
    if (plan.index_without_pauses > plan.index)
      text += " (without pauses " + two(plan.index_without_pauses) + ")";
    text += ".";
  }
  if (!plan.alternates) text += " Passes that strain the hand follow each other: rest in between.";
  return text + " A planning aid after ISO 11228-3, no medical advice; stop at pain.";
}

}  // namespace batten

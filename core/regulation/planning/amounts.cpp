#include "core/regulation/planning/amounts.hpp"

#include "core/regulation/planning/harm.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace batten::planning {
namespace {

constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }
constexpr auto at(Adjuster adjuster) { return static_cast<Eigen::Index>(adjuster); }
constexpr std::uint32_t bit(Adjuster adjuster) { return 1u << index_of(adjuster); }

// A grade or a fraction without a tolerance of its own is right when it is the same grade.
constexpr double same_grade = 0.5;
// An aim this unsure, in tolerances, waits for a reading before its adjuster is turned.
constexpr double too_unsure = 1.0;
// And so does one that other adjusters' moves have carried so far, in tolerances, since it was
// read.
constexpr double most_carried = 2.0;

// A move that gains less, in tolerances squared, is not worth the turning, and two that undo each
// other gain nothing.
constexpr double least_gain = 0.2;
// An adjuster turned so often at one note in a visit does not do what is believed of it.
constexpr int most_moves = 4;

double cost_of(const NoteTask& task, const Belief& b) {
  double sum = 0;
  for (const Aim aim : all_aims) {
    if (!task.asked[index_of(aim)]) continue;
    const double off = b.mean(at(aim)) - task.target(at(aim));
    const double t = task.tolerance(at(aim));
    sum += (off * off + b.cov(at(aim), at(aim))) / (t * t);
  }
  return sum;
}

// Least squares over the adjusters in `set`, each brought to a whole number of steps one after the
// other, those rounded first being made good by the rest.
AdjusterVector solve(const NoteTask& task, std::uint32_t set, const std::vector<Adjuster>& order) {
  AdjusterVector amounts = AdjusterVector::Zero();
  AimVector weight = AimVector::Zero();
  for (const Aim aim : all_aims) {
    if (!task.asked[index_of(aim)]) continue;
    const double t = task.tolerance(at(aim));
    weight(at(aim)) = 1 / (t * t + task.note->cov(at(aim), at(aim)));
  }
  std::vector<Adjuster> free;
  for (const Adjuster a : order)
    if ((set & bit(a)) != 0) free.push_back(a);
  AimVector off = task.note->mean - task.target;
  while (!free.empty()) {
    const auto n = static_cast<Eigen::Index>(free.size());
    Eigen::MatrixXd columns(static_cast<Eigen::Index>(aim_count), n);
    for (Eigen::Index i = 0; i < n; ++i)
      columns.col(i) = task.effect.col(at(free[static_cast<std::size_t>(i)]));
    Eigen::MatrixXd normal = columns.transpose() * weight.asDiagonal() * columns;
    // Next to nothing, so that two adjusters of nearly the same effect do not run against each
    // other.
    for (Eigen::Index i = 0; i < n; ++i) normal(i, i) += 1e-6 + 1e-4 * normal(i, i);
    const Eigen::VectorXd rest = columns.transpose() * weight.asDiagonal() * (-off);
    const Eigen::VectorXd best = normal.ldlt().solve(rest);
    const Adjuster first = free.front();
    const double step = task.step(at(first));
    double amount = std::round(best(0) / step) * step;
    const double moved = task.note->moved(at(first)), most = task.most(at(first));
    amount = std::clamp(amount, std::min(0.0, -most - moved), std::max(0.0, most - moved));
    amounts(at(first)) = std::trunc(amount / step + (amount > 0 ? 1e-9 : -1e-9)) * step;
    off += task.effect.col(at(first)) * amounts(at(first));
    free.erase(free.begin());
  }
  return amounts;
}

// Whether turning an adjuster for this aim is sensible on what is known.
bool known_enough(const NoteTask& task, Aim aim) {
  const NoteState& n = *task.note;
  const double t = task.tolerance(at(aim));
  return n.read[index_of(aim)] && !n.doubted[index_of(aim)] && n.sd(aim) <= too_unsure * t &&
         n.carried(at(aim)) <= most_carried * t;
}

// The readings an adjuster serves.
bool serves_known(const NoteTask& task, Adjuster adjuster) {
  return known_enough(task, aim_for(adjuster));
}

struct Worst {
  std::optional<Aim> aim;
  double chance = 0;
};

// The aim most likely outside among those whose adjuster may still be taken in.
Worst find_worst(const NoteTask& task, const Belief& b, std::uint32_t taken, std::uint32_t barred,
                 const PlanOptions& options) {
  Worst worst;
  double worst_off = 0;
  for (const Aim aim : all_aims) {
    const Adjuster adjuster = adjuster_for(aim);
    if (!task.asked[index_of(aim)] || !task.usable[index_of(adjuster)]) continue;
    if (((taken | barred) & bit(adjuster)) != 0) continue;
    const double off = b.mean(at(aim)) - task.target(at(aim)), sd = b.sd(aim);
    const double t = task.tolerance(at(aim));
    const double chance = chance_outside(off, sd, t);
    if (chance <= options.act_from + task.blur(at(aim)) || std::abs(off) / t <= worst_off) continue;
    if (!known_enough(task, aim) || !serves_known(task, adjuster)) continue;
    if (chance_of_sign(off, sd) < options.direction_sureness) continue;
    worst = {aim, chance};
    worst_off = std::abs(off) / t;
  }
  return worst;
}

// Moves that came out at nothing, or finer than what is known.
std::uint32_t idle(const NoteTask& task, const AdjusterVector& amounts, std::uint32_t set) {
  std::uint32_t none = 0;
  for (std::size_t k = 0; k < note_adjuster_count; ++k) {
    const auto a = static_cast<Adjuster>(k);
    if ((set & bit(a)) != 0 && std::abs(amounts(at(a))) < 0.5 * task.step(at(a))) none |= bit(a);
  }
  return none;
}

Hold hold_of(const NoteTask& task, const Harm& harm) {
  Hold hold;
  hold.reason = harm.reason;
  hold.key = task.note->key;
  hold.adjuster = harm.by;
  hold.reading = reading_of(aim_for(harm.by), hold.key);
  if (harm.by_ignorance) hold.would_settle = reading_of(harm.aim, hold.key);
  return hold;
}

// Adjusters that make good what moves would push out of its tolerance, as far as that is known.
std::uint32_t compensators(const NoteTask& task, Adjuster adjuster, const AdjusterVector& amounts,
                           std::uint32_t barred, const std::vector<Adjuster>& order,
                           const PlanOptions& options) {
  constexpr double newly_outside = 0.05;
  const auto self = std::find(order.begin(), order.end(), adjuster);
  const auto is_later = [&](Adjuster a) { return std::find(self, order.end(), a) != order.end(); };
  const Belief now = after_moves(task, AdjusterVector::Zero()), then = after_moves(task, amounts);
  std::uint32_t set = 0;
  for (const Aim aim : all_aims) {
    const Adjuster other = adjuster_for(aim);
    if (!task.asked[index_of(aim)] || !task.usable[index_of(other)]) continue;
    if ((barred & bit(other)) != 0 || !serves_known(task, other)) continue;
    // What was set before is not taken up again for this.
    if (!is_later(other)) continue;
    const double target = task.target(at(aim)), t = task.tolerance(at(aim));
    const double before = chance_outside(now.mean(at(aim)) - target, now.sd(aim), t);
    const double after = chance_outside(then.mean(at(aim)) - target, then.sd(aim), t);
    if (after > options.act_from + task.blur(at(aim)) && after > before + newly_outside)
      set |= bit(other);
  }
  return set;
}

// For the aftertouch, when punchings alone do not bring it in: blow and let-off give way too.
std::uint32_t helpers(const NoteTask& task, std::uint32_t barred) {
  std::uint32_t set = 0;
  for (const Adjuster a : {Adjuster::capstan, Adjuster::let_off_button})
    if ((barred & bit(a)) == 0 && task.usable[index_of(a)] && serves_known(task, a)) set |= bit(a);
  return set;
}

// The adjusters taken so far with one more: by itself, or with those that make good what it
// disturbs where that is worth their turning.
struct Trial {
  std::uint32_t set = 0;
  AdjusterVector amounts = AdjusterVector::Zero();
};
Trial try_with(const NoteTask& task, std::uint32_t taken, Adjuster adjuster, std::uint32_t barred,
               const std::vector<Adjuster>& order, const PlanOptions& options) {
  // What makes good may itself want making good.
  constexpr int rounds = 3;
  Trial best{taken | bit(adjuster), {}};
  best.amounts = solve(task, best.set, order);
  double least = cost_of(task, after_moves(task, best.amounts));
  // At first as if the adjuster were free to do all it was taken in for.
  const Aim aim = aim_for(adjuster);
  AdjusterVector whole = best.amounts;
  whole(at(adjuster)) =
      (task.target(at(aim)) - task.note->mean(at(aim))) / task.effect(at(aim), at(adjuster));
  Trial wide{best.set, whole};
  for (int i = 0; i < rounds; ++i) {
    const std::uint32_t more = compensators(task, adjuster, wide.amounts, barred, order, options);
    if ((more & ~wide.set) == 0) break;
    wide.set |= more;
    wide.amounts = solve(task, wide.set, order);
    const double cost = cost_of(task, after_moves(task, wide.amounts));
    if (cost < least - least_gain) {
      best = wide;
      least = cost;
    }
  }
  return best;
}

}  // namespace

double chance_outside(double off, double sd, double tolerance) {
  if (sd <= 0) return std::abs(off) > tolerance ? 1 : 0;
  const double scale = 1 / (sd * std::sqrt(2.0));
  return 0.5 * (std::erfc((tolerance - off) * scale) + std::erfc((tolerance + off) * scale));
}

double chance_of_sign(double off, double sd) {
  if (sd <= 0) return 1;
  return 1 - 0.5 * std::erfc(std::abs(off) / (sd * std::sqrt(2.0)));
}

double Belief::sd(Aim aim) const { return std::sqrt(std::max(0.0, cov(at(aim), at(aim)))); }

Belief after_moves(const NoteTask& task, const AdjusterVector& amounts) {
  Belief b{task.note->mean, task.note->cov};
  // Share of a step by which a hand misses (as in the replay).
  constexpr double stop_share = 0.4;
  for (Eigen::Index k = 0; k < amounts.size(); ++k) {
    if (amounts(k) == 0) continue;
    const AimVector change = task.effect.col(k) * amounts(k);
    const double share =
        std::hypot(task.share_sd(k), stop_share * task.step(k) / std::abs(amounts(k)));
    b.mean += change;
    b.cov += (share * share) * change * change.transpose();
  }
  return b;
}

NoteTask make_task(const Situation& s, const ActionModel& model, const NoteState& note) {
  NoteTask task;
  task.note = &note;
  const Key key = note.key;
  for (const Aim aim : all_aims) {
    const Reading reading = reading_of(aim, key);
    const auto target = wanted(s, model, key, aim);
    const auto tolerance = s.catalogue.tolerance(reading);
    task.target(at(aim)) = target.value_or(note.mean(at(aim)));
    if (tolerance)
      task.tolerance(at(aim)) = std::max(tolerance->neighbours, tolerance->absolute) > 0
                                    ? std::min(tolerance->absolute, tolerance->neighbours)
                                    : same_grade;
    // Half a grade is read as this one or as the next.
    constexpr double of_a_grade = 0.4;
    if (kind_of(reading).unit == ReadingUnit::grade) task.blur(at(aim)) = of_a_grade;
    task.asked[index_of(aim)] = target && tolerance && s.equipment.asks(reading, key);
  }
  for (std::size_t k = 0; k < note_adjuster_count; ++k) {
    const auto a = static_cast<Adjuster>(k);
    const UnitEffect unit = unit_effect(model, s.responses, note, a);
    task.effect.col(at(a)) = unit.change;
    task.share_sd(at(a)) = unit.share_sd;
    task.step(at(a)) = s.catalogue.labour(a).least_step;
    task.most(at(a)) = s.catalogue.labour(a).most_each_way;
    task.usable[k] = s.equipment.has(a, key) && !note.skipped[k];
  }
  return task;
}

Decision decide(const NoteTask& task, const std::vector<Adjuster>& order,
                const std::array<bool, note_adjuster_count>& trusted, const PlanOptions& options) {
  Decision decision;
  std::uint32_t taken = 0, barred = 0;
  for (std::size_t k = 0; k < note_adjuster_count; ++k)
    if (!trusted[k] || task.note->moves[k] >= most_moves) barred |= 1u << k;
  AdjusterVector amounts = AdjusterVector::Zero();
  Belief belief = after_moves(task, amounts);
  decision.depths.push_back({0, amounts, cost_of(task, belief)});
  decision.order = order;
  bool helped = false;
  for (;;) {
    const Worst worst = find_worst(task, belief, taken, barred, options);
    if (!worst.aim) {
      // What the punchings have left of the aftertouch.
      const double off = belief.mean(at(Aim::aftertouch)) - task.target(at(Aim::aftertouch));
      const bool still = task.asked[index_of(Aim::aftertouch)] &&
                         known_enough(task, Aim::aftertouch) &&
                         (taken & bit(Adjuster::front_punchings)) != 0 &&
                         std::abs(off) > task.tolerance(at(Aim::aftertouch));
      const std::uint32_t wider = taken | helpers(task, barred);
      if (helped || !still || wider == taken) break;
      helped = true;
      const AdjusterVector next = solve(task, wider, order);
      const auto safe = safe_order(task, next, order, options);
      const Belief then = after_moves(task, next);
      if (!safe || cost_of(task, then) >= cost_of(task, belief)) break;
      taken = wider & ~idle(task, next, wider);
      amounts = next;
      belief = then;
      decision.order = *safe;
      decision.depths.push_back({taken, amounts, cost_of(task, belief)});
      continue;
    }
    const Adjuster adjuster = adjuster_for(*worst.aim);
    const Trial trial = try_with(task, taken, adjuster, barred, order, options);
    const AdjusterVector& next = trial.amounts;
    if (std::abs(next(at(adjuster))) < 0.5 * task.step(at(adjuster))) {
      const double moved = task.note->moved(at(adjuster));
      if (std::abs(moved) + task.step(at(adjuster)) > task.most(at(adjuster)))
        decision.holds.push_back({Hold::Reason::beyond_limit, task.note->key, adjuster,
                                  reading_of(*worst.aim, task.note->key), std::nullopt});
      barred |= bit(adjuster);
      continue;
    }
    if (cost_of(task, after_moves(task, next)) > cost_of(task, belief) - least_gain) {
      barred |= bit(adjuster);
      continue;
    }
    const auto safe = safe_order(task, next, order, options);
    if (!safe) {
      const Harm harm = *find_harm(task, next, order, options);
      decision.holds.push_back(hold_of(task, harm));
      // Without the harmful one; it may have been taken in before.
      barred |= bit(harm.by);
      taken &= ~bit(harm.by);
      amounts = solve(task, taken, order);
      const auto rest = safe_order(task, amounts, order, options);
      if (!rest) {
        amounts.setZero();
        decision.depths.resize(1);
        decision.order = order;
        break;
      }
      decision.order = *rest;
      belief = after_moves(task, amounts);
      continue;
    }
    decision.order = *safe;
    taken = trial.set & ~idle(task, next, trial.set);
    amounts = next;
    belief = after_moves(task, amounts);
    decision.depths.push_back({taken, amounts, cost_of(task, belief)});
  }
  // What the joint solution asks for and nobody would miss.
  for (const Adjuster adjuster : order) {
    if (amounts(at(adjuster)) == 0) continue;
    AdjusterVector without = amounts;
    without(at(adjuster)) = 0;
    if (cost_of(task, after_moves(task, without)) > cost_of(task, belief) + least_gain) continue;
    const auto safe = safe_order(task, without, order, options);
    if (!safe) continue;
    amounts = without;
    decision.order = *safe;
    belief = after_moves(task, amounts);
  }
  if (decision.depths.size() > 1) {
    decision.depths.back().amounts = amounts;
    decision.depths.back().cost = cost_of(task, belief);
  }
  decision.amounts = amounts;
  return decision;
}

}  // namespace batten::planning

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
  return n.read[index_of(aim)] && !n.doubted[index_of(aim)] &&
         n.sd(aim) <= too_unsure * task.tolerance(at(aim));
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
    if (chance <= options.act_from || std::abs(off) / t <= worst_off) continue;
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

std::vector<Adjuster> with_drop_first(const std::vector<Adjuster>& order) {
  std::vector<Adjuster> list;
  for (const Adjuster a : order) {
    if (a == Adjuster::drop_screw) continue;
    if (a == Adjuster::let_off_button) list.push_back(Adjuster::drop_screw);
    list.push_back(a);
  }
  return list;
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
  const bool served = std::ranges::find(s.line.out_of_service, key) == s.line.out_of_service.end();
  const bool damped = !s.line.undamped_from || key < *s.line.undamped_from;
  for (const Aim aim : all_aims) {
    const Reading reading = reading_of(aim, key);
    auto target = s.targets.at(aim, key);
    // Without a target of its own the aftertouch is what the others give, within its usual span.
    if (!target && aim == Aim::aftertouch)
      target = std::clamp(model.at(key).at_target(at(aim)), *kind_of(reading).usual_low,
                          *kind_of(reading).usual_high);
    const auto tolerance = s.catalogue.tolerance(reading);
    task.target(at(aim)) = target.value_or(note.mean(at(aim)));
    if (tolerance)
      task.tolerance(at(aim)) = std::max(tolerance->neighbours, tolerance->absolute) > 0
                                    ? std::min(tolerance->absolute, tolerance->neighbours)
                                    : same_grade;
    task.asked[index_of(aim)] =
        served && target && tolerance && (aim != Aim::damper_start || damped);
  }
  for (std::size_t k = 0; k < note_adjuster_count; ++k) {
    const auto a = static_cast<Adjuster>(k);
    const UnitEffect unit = unit_effect(model, s.responses, note, a);
    task.effect.col(at(a)) = unit.change;
    task.share_sd(at(a)) = unit.share_sd;
    task.step(at(a)) = s.catalogue.labour(a).least_step;
    task.most(at(a)) = s.catalogue.labour(a).most_each_way;
    task.usable[k] = served && (a != Adjuster::damper_wire || damped) && !note.skipped[k];
  }
  return task;
}

Decision decide(const NoteTask& task, const std::vector<Adjuster>& order,
                const std::array<bool, note_adjuster_count>& trusted, const PlanOptions& options) {
  Decision decision;
  std::uint32_t taken = 0, barred = 0;
  for (std::size_t k = 0; k < note_adjuster_count; ++k)
    if (!trusted[k]) barred |= 1u << k;
  AdjusterVector amounts = AdjusterVector::Zero();
  Belief belief = after_moves(task, amounts);
  decision.depths.push_back({0, amounts, cost_of(task, belief)});
  for (;;) {
    const Worst worst = find_worst(task, belief, taken, barred, options);
    if (!worst.aim) break;
    const Adjuster adjuster = adjuster_for(*worst.aim);
    const std::uint32_t wider = taken | bit(adjuster);
    const AdjusterVector next = solve(task, wider, order);
    if (std::abs(next(at(adjuster))) < 0.5 * task.step(at(adjuster))) {
      const double moved = task.note->moved(at(adjuster));
      if (std::abs(moved) + task.step(at(adjuster)) > task.most(at(adjuster)))
        decision.holds.push_back({Hold::Reason::beyond_limit, task.note->key, adjuster,
                                  reading_of(*worst.aim, task.note->key), std::nullopt});
      barred |= bit(adjuster);
      continue;
    }
    auto harm = find_harm(task, next, order, options);
    bool drop_first = decision.drop_first;
    if (harm && harm->by == Adjuster::let_off_button &&
        harm->reason == Hold::Reason::could_be_carried && !harm->by_ignorance &&
        (next(at(Adjuster::drop_screw)) != 0)) {
      harm = find_harm(task, next, with_drop_first(order), options);
      drop_first = !harm;
    }
    if (harm) {
      decision.holds.push_back(hold_of(task, *harm));
      // Without the harmful one; it may have been taken in before.
      barred |= bit(harm->by);
      taken &= ~bit(harm->by);
      amounts = solve(task, taken, order);
      if (find_harm(task, amounts, order, options)) {
        amounts.setZero();
        taken = 0;
        decision.depths.resize(1);
        break;
      }
      belief = after_moves(task, amounts);
      continue;
    }
    decision.drop_first = drop_first;
    taken = wider & ~idle(task, next, wider);
    barred |= wider & ~taken;
    amounts = next;
    belief = after_moves(task, amounts);
    decision.depths.push_back({taken, amounts, cost_of(task, belief)});
  }
  decision.amounts = amounts;
  return decision;
}

}  // namespace batten::planning

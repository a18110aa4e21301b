#include "core/regulation/planning/harm.hpp"

#include <array>
#include <cmath>

namespace batten::planning {
namespace {

constexpr auto at(Aim aim) { return static_cast<Eigen::Index>(aim); }

// Standard normal quantile of a small chance, by Newton's steps on the complementary error function
// from an asymptotic start.
double quantile(double chance) {
  double z = std::sqrt(std::max(0.1, -2 * std::log(2 * chance)));
  for (int i = 0; i < 20; ++i) {
    const double tail = 0.5 * std::erfc(z / std::sqrt(2.0));
    const double density = std::exp(-0.5 * z * z) / std::sqrt(2 * 3.14159265358979323846);
    z += (tail - chance) / density;
  }
  return z;
}

// A sum of aims that must stay above a least value, mm.
struct Margin {
  std::array<Aim, 2> aims;
  int count;
  double least;
  Hold::Reason reason;
};

// Least values: a hammer let off nearer than half a millimetre is at the mercy of a swinging string
// and of the next swing of the climate; the fall that proves the escapement is a quarter of a
// millimetre (docs/theory/action.md); aftertouch is counted from there. The rest are common
// practice, no source.
constexpr std::array margins{
    Margin{{Aim::let_off}, 1, 0.5, Hold::Reason::could_block},
    Margin{{Aim::aftertouch}, 1, 0.15, Hold::Reason::could_not_let_go},
    Margin{{Aim::drop}, 1, 0.3, Hold::Reason::could_be_carried},
    Margin{{Aim::let_off, Aim::drop}, 2, 1.0, Hold::Reason::could_be_carried},
    Margin{{Aim::jack_clearance}, 1, -0.1, Hold::Reason::could_trap},
    Margin{{Aim::check_distance}, 1, 6.0, Hold::Reason::could_rub},
};

double mean_of(const Margin& m, const Belief& b) {
  double sum = 0;
  for (int i = 0; i < m.count; ++i) sum += b.mean(at(m.aims[static_cast<std::size_t>(i)]));
  return sum;
}

double sd_of(const Margin& m, const Belief& b) {
  double var = 0;
  for (int i = 0; i < m.count; ++i)
    for (int j = 0; j < m.count; ++j)
      var +=
          b.cov(at(m.aims[static_cast<std::size_t>(i)]), at(m.aims[static_cast<std::size_t>(j)]));
  return std::sqrt(std::max(0.0, var));
}

// A stronger spring lifts the lever, and with it a hammer that hardly falls, by more than the
// matrix knows (estimate, mm).
constexpr double spring_lifts = 0.3;

std::optional<Harm> harm_of_spring(const NoteTask& task, const Belief& before, double grades,
                                   double z) {
  if (before.mean(at(Aim::drop)) - spring_lifts * grades - z * before.sd(Aim::drop) >= 0.15)
    return std::nullopt;
  return Harm{Adjuster::repetition_spring, Hold::Reason::could_be_carried, Aim::drop,
              !task.note->read[index_of(Aim::drop)]};
}

// What the step from one belief to the next would do.
std::optional<Harm> harm_of_step(const NoteTask& task, Adjuster adjuster, const Belief& before,
                                 const Belief& now, double z) {
  // Changes too small to be worth holding a move for, mm.
  constexpr double nothing = 0.02;
  const auto spring = static_cast<Eigen::Index>(Aim::spring_rise);
  const double grades = now.mean(spring) - before.mean(spring);
  if (adjuster == Adjuster::repetition_spring && grades > 0)
    if (auto harm = harm_of_spring(task, before, grades, z)) return harm;
  for (const Margin& m : margins) {
    if (mean_of(m, before) - mean_of(m, now) < nothing) continue;
    if (mean_of(m, now) - z * sd_of(m, now) >= m.least) continue;
    Harm harm{adjuster, m.reason, m.aims[0], false};
    for (int i = 0; i < m.count; ++i) {
      const Aim aim = m.aims[static_cast<std::size_t>(i)];
      if (task.note->read[index_of(aim)]) continue;
      harm.aim = aim;
      harm.by_ignorance = true;
    }
    return harm;
  }
  return std::nullopt;
}

}  // namespace

std::optional<Harm> find_harm(const NoteTask& task, const AdjusterVector& amounts,
                              const std::vector<Adjuster>& order, const PlanOptions& options) {
  const double z = quantile(options.harm_chance);
  AdjusterVector so_far = AdjusterVector::Zero();
  Belief before = after_moves(task, so_far);
  for (const Adjuster adjuster : order) {
    const auto k = static_cast<Eigen::Index>(adjuster);
    if (amounts(k) == 0) continue;
    so_far(k) = amounts(k);
    const Belief now = after_moves(task, so_far);
    if (auto harm = harm_of_step(task, adjuster, before, now, z)) return harm;
    before = now;
  }
  return std::nullopt;
}

std::optional<std::vector<Adjuster>> safe_order(const NoteTask& task, const AdjusterVector& amounts,
                                                const std::vector<Adjuster>& order,
                                                const PlanOptions& options) {
  const double z = quantile(options.harm_chance);
  std::vector<Adjuster> left = order, found;
  AdjusterVector so_far = AdjusterVector::Zero();
  Belief before = after_moves(task, so_far);
  while (!left.empty()) {
    bool went = false;
    for (auto it = left.begin(); it != left.end() && !went; ++it) {
      const auto k = static_cast<Eigen::Index>(*it);
      AdjusterVector next = so_far;
      next(k) = amounts(k);
      const Belief now = after_moves(task, next);
      if (amounts(k) != 0 && harm_of_step(task, *it, before, now, z)) continue;
      so_far = next;
      before = now;
      found.push_back(*it);
      left.erase(it);
      went = true;
    }
    if (!went) return std::nullopt;
  }
  return found;
}

}  // namespace batten::planning

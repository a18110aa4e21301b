#include "core/action/goals.hpp"

#include <array>
#include <cmath>

namespace batten::action::goals {

namespace {

using A = Adjustments;
using R = Readings;
using W = Wanted;

constexpr std::array<Goal, count> goals = {{
    {"key height", &R::key_height, &W::key_height, &A::balance_punchings, -0.004, 0.004, 4e-3,
     10e-6, 1, "Change what lies under the balance rail or the height of the keys.", 0},
    {"jack position", &R::jack_position, &W::jack_position, &A::jack_button, -0.004, 0.004, 2e-3,
     10e-6, 1, "Look at the knuckle's place and the flanges.", 1},
    {"jack clearance", &R::jack_clearance, &W::jack_clearance, &A::lever_button, -0.004, 0.004,
     0.5e-3, 10e-6, 1, "Strengthen the repetition spring: it must carry the hammer.", 2},
    {"blow", &R::blow, &W::blow, &A::capstan, -0.008, 0.008, 2e-3, 10e-6, 1,
     "Look at the height of the action over the keys.", 3},
    {"let-off", &R::let_off, &W::let_off, &A::let_off_button, 0, 0.014, 0.5e-3, 10e-6, 1,
     "Look at the let-off rail's height and the jack.", 4},
    {"drop", &R::drop, &W::drop, &A::drop_screw, 0, 0.014, 0.5e-3, 10e-6, 1,
     "Strengthen the repetition spring, deepen the dip or ask for less drop.", 5},
    {"dip", &R::dip, &W::dip, &A::front_punchings, -0.008, 0.008, 8e-3, 10e-6, 1,
     "Change what lies under the front rail or the height of the keys.", 6},
    {"check distance", &R::static_catch, &W::check_distance, &A::back_check, -0.012, 0.012, 8e-3,
     10e-6, 1, "Bend the check's wire or look at the tail.", 7},
    {"damper start", &R::damper_start, &W::damper_start, &A::damper_wire, -0.012, 0.012, 4e-3,
     0.002, 0.01, "Look at the damper lever's height.", 8},
}};

// d reading / d adjuster of the default dimensions, regulated, rows and columns in the order above
// (calc_influence; only a start).
constexpr double first_slope[count][count] = {
    {2.17, 0, 0, 0, 0, 0, 0, 0, 0},
    {0.094, 1.863, 0.5, 0.225, 0, 0, 0, 0, 0},
    {0.002, 0.035, 1.68, 0.004, 0, 0, 0, 0, 0},
    {-4.43, 0, -13.0, -10.59, 0, 0, 0, 0, 0},
    {0, 0, 0, 0, 6.1, 0, 0, 0, 0},
    {0, 0, 0, 0, -5.4, 6.0, 0, 0, 0},
    {2.13, 0, 0, 0, 0, 0, -1.04, 0, 0},
    {-6.27, 0, 0, 0.04, 0.02, 0, 4.38, catch_slope, 0},
    {0.59, 0, 1.1, 1.09, 0, 0, 0, 0, 1.095},
};

// a x = b by elimination with pivots; false if singular.
bool solve(int n, double (&a)[count][count], double* b) {
  for (int k = 0; k < n; ++k) {
    int best = k;
    for (int i = k + 1; i < n; ++i)
      if (std::abs(a[i][k]) > std::abs(a[best][k])) best = i;
    if (std::abs(a[best][k]) < 1e-9) return false;
    for (int j = 0; j < n; ++j) std::swap(a[k][j], a[best][j]);
    std::swap(b[k], b[best]);
    for (int i = k + 1; i < n; ++i) {
      const double factor = a[i][k] / a[k][k];
      for (int j = k; j < n; ++j) a[i][j] -= factor * a[k][j];
      b[i] -= factor * b[k];
    }
  }
  for (int k = n - 1; k >= 0; --k) {
    for (int j = k + 1; j < n; ++j) b[k] -= a[k][j] * b[j];
    b[k] /= a[k][k];
  }
  return true;
}

}  // namespace

std::span<const Goal> all() { return goals; }
double value(const Goal& goal, const Readings& readings) { return readings.*goal.reading; }
bool has_damper(const Dimensions& d) { return d.damper_start <= 1; }

bool Goal::asked(const Dimensions& d) const {
  return reading != &Readings::damper_start || has_damper(d);
}

std::string Goal::text(double difference) const {
  const bool share = scale != 1;
  const std::string digits =
      std::to_string(std::round(difference * (share ? 1e3 : 1e5)) / (share ? 1e3 : 1e2));
  return digits.substr(0, digits.find('.') + (share ? 4 : 3)) + (share ? " of the blow" : " mm");
}

Solver::Solver() {
  for (int i = 0; i < count; ++i)
    for (int j = 0; j < count; ++j) slope_[i][j] = first_slope[i][j];
}

void Solver::look(const Dimensions& d, const Wanted& wanted, const Adjustments& adjustments,
                  const Readings& readings) {
  double moved[count] = {}, changed[count] = {}, square = 0;
  for (const Goal& g : goals) {
    const int i = g.index;
    const double at = adjustments.*g.adjuster, now = value(g, readings) * g.scale;
    asked_[i] = g.asked(d);
    moved[i] = at - at_[i];
    changed[i] = now - value_[i];
    square += moved[i] * moved[i];
    at_[i] = at;
    value_[i] = now;
    miss_[i] = now - g.wanted(wanted) * g.scale;
  }
  if (known_ && square > 1e-14) {
    for (int i = 0; i < count; ++i) {
      double foreseen = 0;
      for (int j = 0; j < count; ++j) foreseen += slope_[i][j] * moved[j];
      const double share = (changed[i] - foreseen) / square;
      if (!(std::abs(share) < 1e9)) continue;  // a reading that is not there
      for (int j = 0; j < count; ++j) slope_[i][j] += share * moved[j];
    }
  }
  known_ = true;
}

double Solver::worst(Set set) const {
  double worst = 0;
  for (const Goal& g : goals)
    if (set.has(g) && asked_[g.index] && !(std::abs(miss_[g.index]) <= worst))
      worst = std::abs(miss_[g.index]);
  return worst;
}

bool Solver::within(Set set) const {
  for (const Goal& g : goals)
    if (set.has(g) && asked_[g.index] && !(std::abs(miss(g)) < g.tolerance)) return false;
  return true;
}

void Solver::step(Set set, Adjustments& adjustments) {
  int place[count], n = 0;
  for (const Goal& g : goals)
    if (set.has(g) && asked_[g.index] && miss_[g.index] == miss_[g.index]) place[n++] = g.index;
  double a[count][count], b[count];
  const auto fill = [&](const auto& slope) {
    for (int i = 0; i < n; ++i) {
      for (int j = 0; j < n; ++j) a[i][j] = slope[place[i]][place[j]];
      b[i] = -miss_[place[i]];
    }
  };
  fill(slope_);
  if (!solve(n, a, b)) {
    fill(first_slope);
    solve(n, a, b);
  }
  double scale = 1;
  for (int i = 0; i < n; ++i) {
    const double farthest = goals[static_cast<std::size_t>(place[i])].farthest;
    if (std::abs(b[i]) * scale > farthest) scale = farthest / std::abs(b[i]);
  }
  for (int i = 0; i < n; ++i)
    adjustments.*goals[static_cast<std::size_t>(place[i])].adjuster += scale * b[i];
}

}  // namespace batten::action::goals

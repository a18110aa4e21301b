#include "core/action/finger.hpp"

#include <cmath>
#include <cstddef>

namespace batten::action {

namespace detail {

namespace {

// Estimates, one set for all efforts, notes and profiles; chosen so that travel times of pressed
// and struck touch follow Goebl, Bresin & Galembo (2005) at middling speeds
// (docs/theory/action.md).
//
// Pressed: the muscle's force rises as a cascade of eight equal lags does, 9.3 ms each (74 ms in
// all, as long as a published finger muscle twitch takes to its peak, 60-80 ms, from memory),
// however hard the effort.
constexpr int lags = 8;
constexpr double lag_time = 0.0093;    // s
constexpr double pressed_mass = 0.03;  // kg
// Struck: finger and part of the hand arrive at speed, and are pushed on.
constexpr double struck_mass = 0.18;  // kg
constexpr double struck_force = 0.8;  // N
constexpr double struck_follow = 40;  // N s/m
// At the key's bottom the push is let go, to a force that holds the key.
constexpr double holding_force = 5;   // N
constexpr double letting_go = 0.015;  // s
// Less than any key's friction, N.
constexpr double quiet_force = 0.03;
// A hand that leads the key back: stiffness over mass is the square of this, critically damped.
constexpr double leading_rate = 400;  // 1/s
// The finger leaves the key by this much when it lets it go altogether.
constexpr double clear_of_key = 4e-3;  // m

}  // namespace

// A fingertip's pulp gives about 2.5 mm under 8 N, stiffening and lossy (Serina, Mote & Rempel, J.
// Biomech. 30 (1997), from memory). A pressing finger holds its joints; in a striking one they give
// as well, 6 mm in all (estimate). A machine that moves the key by position gives nothing to speak
// of.
mechanism::ContactLaw fingertip(const Finger& plan) {
  if (plan.way == Finger::Way::position) return mechanism::contact_law(10, 1e-4, 3, 0.5);
  return mechanism::contact_law(8, plan.touch == Touch::struck ? 6e-3 : 2.5e-3, 5, 2.0);
}

double finger_mass(const Finger& plan) {
  return plan.touch == Touch::struck ? struck_mass : pressed_mass;
}

FingerRun start_finger(const Finger& plan, const StrokeOptions& options) {
  FingerRun run;
  run.plan = &plan;
  const bool struck = plan.touch == Touch::struck;
  run.mass = finger_mass(plan);
  run.start_speed = struck && plan.way == Finger::Way::force ? plan.effort : 0;
  run.release_to = options.release_to;
  run.release_speed = options.release_speed;
  run.again_at = options.again_at;
  return run;
}

double FingerRun::muscle(double since) const {
  if (plan->touch == Touch::struck) return struck_force + struck_follow * plan->effort;
  const double x = since / lag_time;
  double sum = 1, term = 1;
  for (int k = 1; k < lags; ++k) {
    term *= x / k;
    sum += term;
  }
  return plan->effort * (1 - sum * std::exp(-x));
}

double FingerRun::quiet() const {
  if (plan->way == Finger::Way::position || plan->touch == Touch::struck) return 0;
  double low = 0, high = lags * lag_time;
  for (int k = 0; k < 30; ++k) {
    const double middle = 0.5 * (low + high);
    (muscle(middle) < quiet_force ? low : high) = middle;
  }
  return low;
}

double FingerRun::push(double middle, bool at_bottom) {
  const double start = again_at > 0 && middle >= again_at ? again_at : 0;
  if (start != push_start_) {
    push_start_ = start;
    bottom_time_ = -1;
  }
  if (at_bottom && bottom_time_ < 0) {
    bottom_time_ = middle;
    bottom_push_ = muscle(middle - start);
  }
  if (bottom_time_ < 0) return muscle(middle - start);
  const double held = std::fmin(bottom_push_, holding_force);
  return held + (bottom_push_ - held) * std::exp(-(middle - bottom_time_) / letting_go);
}

double FingerRun::force(double time, double step, double q, double v, bool at_bottom) {
  const double weight = mass * gravity;  // carried by the arm, not by the key
  const double middle = time + step / 2;
  const bool second = again_at > 0 && middle >= again_at;
  if (second || middle < plan->hold) {
    if (second) lifting_ = false;
    return weight - push(middle, at_bottom);
  }
  if (!lifting_) {
    lifting_ = true;
    lift_start_ = time;
    lift_from_ = q;
  }
  const double top = release_to > 0 ? -release_to : clear_of_key;
  const double target = std::fmin(lift_from_ + release_speed * (middle - lift_start_), top);
  return weight + mass * (leading_rate * leading_rate * (target - q) - 2 * leading_rate * v);
}

double FingerRun::drive(double time, double step, double q, double rest_key) const {
  const auto& d = plan->depths;
  if (d.empty()) return 0;
  const double at = (time + step) / plan->interval;
  const auto k = static_cast<std::size_t>(std::fmax(0, std::floor(at)));
  const double depth =
      k + 1 >= d.size() ? d.back() : d[k] + (at - static_cast<double>(k)) * (d[k + 1] - d[k]);
  return (rest_key - depth - q) / step;
}

}  // namespace detail

Finger standard_finger(Effort effort, Touch touch) {
  Finger f;
  f.touch = touch;
  const bool struck = touch == Touch::struck;
  switch (effort) {
    case Effort::soft:
      f.effort = struck ? 0.06 : 2.1;
      break;
    case Effort::middling:
      f.effort = struck ? 0.17 : 12;
      break;
    case Effort::loud:
      f.effort = struck ? 0.45 : 150;
      break;
  }
  return f;
}

}  // namespace batten::action

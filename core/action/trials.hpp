// Two trials in real time that tell what a slow press cannot: the hammer eased out of check after a
// blow, and the key let up slowly. For one note or eight at once.
#pragma once

#include "core/action/sweep.hpp"

namespace batten::action {

// What one note did. m, m/s.
struct Trial {
  double caught = 0;     // crown below the string in check after the blow; 0: not caught
  double rise = 0;       // fastest rise of the crown while it is eased out of check
  double rest_hard = 0;  // crown below the string at rest after the blow and a quick release
  double rest_soft = 0;  // the same after a slow press and release
  double jack_out = 0;   // rad the jack then stands out from its place under the knuckle
  bool finite = true;
};

// The blow is a finger at 0.4 m/s (mezzo-forte, docs/theory/action.md), held on the bottom; eased
// at 10 mm/s for 2.5 mm; let go. The slow release is at 20 mm/s, as a technician tries repetition.
// Common practice, no source.
struct TrialLaw {
  double blow_speed = 0.4, hold = 0.2, ease_speed = 0.010, ease = 0.0025, let_go = 0.3;
  double slow_speed = 0.020;
  double wait =
      1.0;  // s from the finger's leaving to the look at the rest; the hammer has stopped bouncing
};

namespace detail {

// Plays every lane to its own end: `speed(lane, time)` is the finger's (upward; NaN ends the lane),
// asked before each step; `look(lane, time, crown)` sees each state.
template <class Real, class Speed, class Look>
void play(const Model<Real>& model, Motion<Real>& motion, Forces<Real>& forces, double longest,
          Speed speed, Look look) {
  using T = RealTraits<Real>;
  EvaluateOptions options;
  options.soft_friction_slope = true;
  options.reach = 1e-3;
  const Real none[max_coordinates] = {};
  double time[mechanism::lane_count] = {};
  bool over[mechanism::lane_count] = {};
  int left = T::width;
  for (int step = 0; step < 100000 && left > 0; ++step) {
    evaluate(model, motion, options, forces);
    const auto crown = watch(model, crown_point, motion, forces.turned);
    Real h = mechanism::limited_step(forces, 40e-6, 20e-6, longest, 1e-3);
    Real finger_speed(0);
    for (int lane = 0; lane < T::width; ++lane) {
      if (over[lane]) {
        T::set(h, lane, 0);
        continue;
      }
      look(lane, time[lane], crown);
      const double v = speed(lane, time[lane]);
      if (!(v == v)) {
        over[lane] = true;
        --left;
        T::set(h, lane, 0);
        continue;
      }
      T::set(finger_speed, lane, v);
      time[lane] += T::lane(h, lane);
    }
    advance(model, forces, none, h, Drive<Real>{finger, finger_speed}, motion);
  }
}

}  // namespace detail

// `rest` from settle, `bottom` the end of a slow press down. trials[lane] is written.
template <class Real>
void try_out(const mechanism::Model<Real>& model, const Pressing<Real>& rest,
             const Pressing<Real>& bottom, const TrialLaw& law, Trial* trials) {
  using namespace detail;
  using T = RealTraits<Real>;
  constexpr double over = __builtin_nan("");
  constexpr double away = 0.005;  // m the finger goes above the key's rest
  Forces<Real> forces;
  prepare(model, forces);
  Motion<Real> motion = rest.motion;
  const auto finger_at = [&](int lane) {
    return T::lane(motion.q[finger], lane) - T::lane(rest.rest_key, lane);
  };
  const Real string_height = model.contacts[crown_string].solid[1];
  const auto below = [&](int lane, const auto& crown) {
    return T::lane(string_height, lane) - T::lane(crown.y, lane);
  };
  {
    bool down[mechanism::lane_count] = {};
    double low[mechanism::lane_count] = {}, gone[mechanism::lane_count] = {};
    const double eased_at = law.hold + law.ease / law.ease_speed;
    play(
        model, motion, forces, 5e-4,
        [&](int lane, double time) {
          if (!down[lane] && T::lane(forces.contacts[front_rail].force, lane) > 3) {
            down[lane] = true;
            low[lane] = time;
          }
          if (!down[lane]) return time > 0.2 ? over : -law.blow_speed;
          const double t = time - low[lane];
          if (t < law.hold) return 0.0;
          if (t < eased_at) return law.ease_speed;
          if (finger_at(lane) < away) {
            gone[lane] = t;
            return law.let_go;
          }
          return t < gone[lane] + law.wait ? 0.0 : over;
        },
        [&](int lane, double time, const auto& crown) {
          Trial& out = trials[lane];
          const double t = down[lane] ? time - low[lane] : -1;
          if (t < law.hold) {
            const bool held = T::lane(forces.contacts[tail_check].force, lane) > 0;
            out.caught = held ? below(lane, crown) : 0;
          } else if (t < eased_at) {
            const double v = T::lane(crown.speed_y, lane);
            if (v > out.rise) out.rise = v;
          }
          out.rest_hard = below(lane, crown);
          if (!(out.rest_hard < 1)) out.finite = false;
        });
  }
  motion = bottom.motion;
  {
    double gone[mechanism::lane_count] = {};
    const Real turned = rest.motion.q[jack] - rest.motion.q[wippen];
    play(
        model, motion, forces, 5e-4,
        [&](int lane, double time) {
          if (finger_at(lane) < away) {
            gone[lane] = time;
            return law.slow_speed;
          }
          return time < gone[lane] + law.wait ? 0.0 : over;
        },
        [&](int lane, double, const auto& crown) {
          Trial& out = trials[lane];
          out.rest_soft = below(lane, crown);
          out.jack_out = T::lane(motion.q[jack], lane) - T::lane(motion.q[wippen], lane) -
                         T::lane(turned, lane);
          if (!(out.rest_soft < 1)) out.finite = false;
        });
  }
}

}  // namespace batten::action

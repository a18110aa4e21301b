// The run of a stroke, for one note or eight at once; see strokes.hpp for what comes out.
#pragma once

#include "core/action/finger.hpp"
#include "core/action/strokes.hpp"
#include "core/mechanism/energy.hpp"
#include "core/strings/struck_unison.hpp"

#include <cmath>
#include <limits>
#include <vector>

namespace batten::action::detail {

using mechanism::advance;
using mechanism::lane_count;
using mechanism::limited_step;
using mechanism::push;
using mechanism::watch;

inline constexpr double never = std::numeric_limits<double>::quiet_NaN();

// What one lane remembers from step to step.
struct LaneBook {
  StruckUnison* strings = nullptr;
  Stroke out;
  FingerRun finger;
  double time = 0, next_trace = 0;
  double rest_key = 0, rest_jack_gap = 0;
  double last_speed = 0, last_crown = 0, last_accel = 0, string_now = 0;
  double peak_speed = 0, peak_before = 0, peak_time = 0;
  double loss = 0, start_energy = 0, string_work = 0;
  double string_end = 0, caught_since = 0;
  bool near_string = false, hit = false, done = false, caught = false, again = false;
};

// One step's view of one lane.
struct LaneView {
  double h = 0;
  double key_y = 0, key_speed = 0, crown = 0, hammer_speed = 0;  // crown: below the string
  double finger_force = 0, check_force = 0, jack_force = 0, rail_force = 0, jack_gap = 0;
  double damper_gap = 0;
};

// Before each step: the finger's force and the string's, as a mean over the step.
// After each step: what happened in it. Both in stroke_book.cpp, for one lane.
void note_events(LaneBook& book, const LaneView& before, const LaneView& now,
                 const StrokeOptions& options);

template <class Real>
LaneView view_lane(const Forces<Real>& forces, const mechanism::Watched<Real>& key,
                   const mechanism::Watched<Real>& crown, Real string_height, int lane) {
  using T = RealTraits<Real>;
  LaneView v;
  v.key_y = T::lane(key.y, lane);
  v.key_speed = -T::lane(key.speed_y, lane);
  v.crown = T::lane(string_height, lane) - T::lane(crown.y, lane);
  v.hammer_speed = T::lane(crown.speed_y, lane);
  v.finger_force = T::lane(forces.contacts[finger_key].force, lane);
  v.check_force = T::lane(forces.contacts[tail_check].force, lane);
  v.jack_force = T::lane(forces.contacts[jack_knuckle].force, lane);
  v.jack_gap = T::lane(forces.contacts[jack_knuckle].gap, lane);
  v.rail_force = T::lane(forces.contacts[front_rail].force, lane);
  v.damper_gap = T::lane(forces.contacts[key_damper].gap, lane);
  return v;
}

// Mass the strings feel at the crown: 1 / (J M^-1 J') of shank and head.
template <class Real>
Real crown_mass(const Forces<Real>& forces, Real js, Real jh) {
  const Real a = forces.mass[shank][shank], b = forces.mass[shank][head],
             d = forces.mass[head][head];
  const Real det = a * d - b * b;
  return det / (d * js * js - Real(2) * b * js * jh + a * jh * jh);
}

// Runs all lanes to their end. books[lane].strings must be set and at rest; `used` lanes count.
template <class Real>
void run_strokes(const mechanism::Model<Real>& model, const Pressing<Real>& rest, int used,
                 const StrokeOptions& o, LaneBook* books) {
  using T = RealTraits<Real>;
  const int n = model.count;
  Motion<Real> motion = rest.motion;
  EvaluateOptions options;
  options.soft_friction_slope = true;
  options.contacts_off = bit(crown_string);
  Forces<Real> forces;
  prepare(model, forces);
  const Real string_height = model.contacts[crown_string].solid[1];
  for (int lane = 0; lane < T::width; ++lane) {
    LaneBook& b = books[lane];
    b.rest_key = T::lane(rest.rest_key, lane);
    b.done = lane >= used;
    T::set(motion.q[finger], lane, b.rest_key);
    T::set(motion.v[finger], lane, -b.finger.start_speed);
  }
  const bool positioned = books[0].finger.positioned();
  int left = used;
  bool first = true;
  LaneView before[lane_count];
  for (int step = 0; step < 200000 && left > 0; ++step) {
    evaluate(model, motion, options, forces);
    const auto key = watch(model, key_point, motion, forces.turned);
    const auto crown = watch(model, crown_point, motion, forces.turned);
    if (first)
      for (int lane = 0; lane < used; ++lane) {
        before[lane] = view_lane(forces, key, crown, string_height, lane);
        books[lane].rest_jack_gap = before[lane].jack_gap;
        books[lane].last_crown = before[lane].crown;
      }
    first = false;
    // The string's approach is stepped by the string itself.
    forces.contacts[crown_string].closing = Real(0);
    Real h = limited_step(forces, o.travel, o.shortest, o.longest, 1e-3);
    Real extra[max_coordinates];
    for (int i = 0; i < n; ++i) extra[i] = Real(0);
    Real lever_y[max_coordinates];
    for (int i = 0; i < n; ++i) lever_y[i] = Real(0);
    push(model, crown_point, motion, forces.turned, Real(0), Real(1), lever_y);
    const Real mass = crown_mass(forces, lever_y[shank], lever_y[head]);
    Real pull(0), drive_speed(0);
    Real string_force(0), settle_crown(0);
    for (int lane = 0; lane < T::width; ++lane) {
      LaneBook& b = books[lane];
      if (b.done) {
        T::set(h, lane, 0);
        continue;
      }
      double step_time = T::lane(h, lane);
      const double height = T::lane(crown.y, lane) - T::lane(string_height, lane);
      const double speed = T::lane(crown.speed_y, lane);
      if (height > -1e-3 && step_time > o.contact_step) {
        step_time = o.contact_step;
        T::set(h, lane, step_time);
      }
      T::set(pull, lane,
             b.finger.force(b.time, step_time, T::lane(motion.q[finger], lane),
                            T::lane(motion.v[finger], lane),
                            T::lane(forces.contacts[front_rail].force, lane) > 1));
      if (positioned)
        T::set(drive_speed, lane,
               b.finger.drive(b.time, step_time, T::lane(motion.q[finger], lane), b.rest_key));
      if (height > -8e-3 && !o.to_string) {
        const Impulse impulse =
            b.strings->advance(step_time, height, speed, b.last_accel, T::lane(mass, lane));
        b.string_now = impulse.impulse / step_time;
        T::set(settle_crown, lane,
               step_time * impulse.impulse - T::lane(mass, lane) * impulse.crown_shift);
        b.string_work += impulse.work;
        if (impulse.peak_force > b.out.string_force) b.out.string_force = impulse.peak_force;
        if (b.hit && !b.again) b.out.contact_time += impulse.contact_time;
        T::set(string_force, lane, b.string_now);
        b.near_string = true;
      } else if (b.near_string) {
        b.strings->let_ring(step_time);
        b.string_now = 0;
      }
    }
    for (int i = 0; i < n; ++i) extra[i] -= string_force * lever_y[i];
    extra[finger] += pull;
    const Drive<Real> drive{positioned ? static_cast<int>(finger) : -1, drive_speed};
    if (o.book_energy && T::width == 1) {
      if constexpr (T::width == 1) books[0].loss += h * calc_loss(model, motion, options).total();
    }
    // A constant mean force moves the crown farther than the string's own course of force did: put
    // right along what the strings can move.
    const Real ms = forces.mass[shank][shank], mc = forces.mass[shank][head],
               mh = forces.mass[head][head];
    const Real put = settle_crown / (ms * mh - mc * mc);
    advance(model, forces, extra, h, drive, motion);
    motion.q[shank] += put * (mh * lever_y[shank] - mc * lever_y[head]);
    motion.q[head] += put * (ms * lever_y[head] - mc * lever_y[shank]);
    const auto key_after = watch(model, key_point, motion);
    const auto crown_after = watch(model, crown_point, motion);
    for (int lane = 0; lane < used; ++lane) {
      LaneBook& b = books[lane];
      if (b.done) continue;
      LaneView now = view_lane(forces, key_after, crown_after, string_height, lane);
      now.h = T::lane(h, lane);
      const double m = T::lane(mass, lane);
      b.last_accel = (now.hammer_speed - b.last_speed) / now.h + b.string_now / m;
      b.time += now.h;
      note_events(b, before[lane], now, o);
      before[lane] = now;
      if (!(std::abs(now.hammer_speed) < 1e3) || !(std::abs(now.key_y) < 1)) {
        b.out.finite = false;
        b.done = true;
      }
      if (b.done || b.time >= o.time) {
        b.done = true;
        --left;
      }
    }
  }
}

}  // namespace batten::action::detail

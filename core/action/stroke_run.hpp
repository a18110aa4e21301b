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

// More than any stroke takes, should its steps shrink.
inline constexpr int most_steps = 400000;
inline constexpr double never = std::numeric_limits<double>::quiet_NaN();

// One lane's state at one time: motions and forces that belong together.
struct LaneView {
  double time = 0;
  double key_y = 0, key_speed = 0;     // front: m, m/s downward
  double crown = 0, hammer_speed = 0;  // m below the string, m/s upward
  double finger_force = 0, check_force = 0, jack_force = 0, rail_force = 0, jack_gap = 0;
};

// What one lane remembers from step to step.
struct LaneBook {
  StruckUnison* strings = nullptr;
  const mechanism::Model<double>* model = nullptr;
  Stroke out;
  FingerRun finger;
  LaneView last, before_last;
  double time = 0, next_trace = 0;
  double rest_key = 0;
  double last_accel = 0;  // m/s^2 of the crown over the last step, the string's part left out
  double string_now = 0;  // N, mean over the last step
  double peak_speed = 0, peak_time = 0;
  double loss = 0, start_energy = 0;
  bool started = false, near_string = false, hit = false, done = false, caught = false,
       again = false;
};

// What happened between the lane's last state and this one. For one lane, in stroke_book.cpp.
void note_events(LaneBook& book, const LaneView& now, const StrokeOptions& options);
// Shares of the energy at string contact; for one lane, in stroke_book.cpp.
void book_energy(LaneBook& book, const Motion<double>& motion, bool losses_counted);
double stored_energy(const mechanism::Model<double>& model, const Motion<double>& motion);
double power_lost(const mechanism::Model<double>& model, const Motion<double>& motion);

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
  return v;
}

template <class Real>
Motion<double> lane_motion(const Motion<Real>& motion, int count, int lane) {
  Motion<double> m;
  for (int i = 0; i < count; ++i) {
    m.q[i] = RealTraits<Real>::lane(motion.q[i], lane);
    m.v[i] = RealTraits<Real>::lane(motion.v[i], lane);
  }
  return m;
}

// The string is asked for its force when the crown is nearer than this, m: farther away it cannot
// be reached by any string's swing.
inline constexpr double string_reach = 8e-3;
// Contacts farther apart than this, m, count neither for the step nor for anything else.
inline constexpr double look_ahead = 1e-3;
// Steps are short when the crown is nearer than this, m.
inline constexpr double string_near = 1e-3;

// Runs all lanes to their end. books[lane].strings and model must be set; `used` lanes count.
template <class Real>
void run_strokes(const mechanism::Model<Real>& model, const Pressing<Real>& rest, int used,
                 const StrokeOptions& o, LaneBook* books) {
  using T = RealTraits<Real>;
  const int n = model.count;
  Motion<Real> motion = rest.motion;
  EvaluateOptions options;
  options.soft_friction_slope = true;
  options.contacts_off = bit(crown_string);
  options.reach = look_ahead;
  Forces<Real> forces;
  prepare(model, forces);
  const Real string_height = model.contacts[crown_string].solid[1];
  for (int lane = 0; lane < T::width; ++lane) {
    LaneBook& b = books[lane < used ? lane : 0];
    T::set(motion.q[finger], lane, T::lane(rest.rest_key, lane));
    T::set(motion.v[finger], lane, -b.finger.start_speed);
    if (lane < used) b.rest_key = T::lane(rest.rest_key, lane);
  }
  const bool positioned = books[0].finger.positioned();
  int left = used;
  for (int step = 0; step < most_steps && left > 0; ++step) {
    evaluate(model, motion, options, forces);
    const auto key = watch(model, key_point, motion, forces.turned);
    const auto crown = watch(model, crown_point, motion, forces.turned);
    for (int lane = 0; lane < used; ++lane) {
      LaneBook& b = books[lane];
      if (b.done) continue;
      LaneView now = view_lane(forces, key, crown, string_height, lane);
      now.time = b.time;
      if (!b.started) {
        b.started = true;
        b.last = b.before_last = now;
        b.start_energy = stored_energy(*b.model, lane_motion(motion, n, lane));
      } else {
        const bool before = b.hit;
        note_events(b, now, o);
        if (b.hit && !before) book_energy(b, lane_motion(motion, n, lane), o.book_energy);
      }
      if (!(std::abs(now.hammer_speed) < 1e3) || !(std::abs(now.key_y) < 1)) {
        b.out.finite = false;
        b.done = true;
      }
      if (b.done || b.time >= o.time) {
        b.done = true;
        --left;
      }
    }
    if (left == 0) break;

    // The string's approach is stepped by the string itself.
    forces.contacts[crown_string].closing = Real(0);
    Real h = limited_step(forces, o.travel, o.shortest, o.longest, look_ahead);
    Real lever_y[max_coordinates], extra[max_coordinates];
    for (int i = 0; i < n; ++i) lever_y[i] = extra[i] = Real(0);
    push(model, crown_point, motion, forces.turned, Real(0), Real(1), lever_y);
    // Mass the strings feel at the crown: 1 / (J M^-1 J') of shank and head.
    const Real ms = forces.mass[shank][shank], mc = forces.mass[shank][head],
               mh = forces.mass[head][head];
    const Real det = ms * mh - mc * mc;
    const Real js = lever_y[shank], jh = lever_y[head];
    const Real mass = det / (mh * js * js - Real(2) * mc * js * jh + ms * jh * jh);
    Real pull(0), drive_speed(0), string_force(0), settle_crown(0);
    for (int lane = 0; lane < T::width; ++lane) {
      if (lane >= used || books[lane].done) {
        T::set(h, lane, 0);
        continue;
      }
      LaneBook& b = books[lane];
      double step_time = T::lane(h, lane);
      const double below = b.last.crown;
      if (below < string_near && step_time > o.contact_step) {
        step_time = o.contact_step;
        T::set(h, lane, step_time);
      }
      T::set(pull, lane,
             b.finger.force(b.time, step_time, T::lane(motion.q[finger], lane),
                            T::lane(motion.v[finger], lane), b.last.rail_force > 1));
      if (positioned)
        T::set(drive_speed, lane,
               b.finger.drive(b.time, step_time, T::lane(motion.q[finger], lane), b.rest_key));
      b.string_now = 0;
      if (below < string_reach && !o.to_string) {
        const double m = T::lane(mass, lane);
        const Impulse hit =
            b.strings->advance(step_time, -below, b.last.hammer_speed, b.last_accel, m);
        b.string_now = hit.impulse / step_time;
        T::set(string_force, lane, b.string_now);
        T::set(settle_crown, lane, step_time * hit.impulse - m * hit.crown_shift);
        if (hit.peak_force > b.out.string_force) b.out.string_force = hit.peak_force;
        if (std::isnan(b.out.string_end)) b.out.contact_time += hit.contact_time;
        b.near_string = true;
      } else if (b.near_string) {
        b.strings->let_ring(step_time);
      }
      b.time += step_time;
    }
    for (int i = 0; i < n; ++i) extra[i] -= string_force * lever_y[i];
    extra[finger] += pull;
    if constexpr (T::width == 1)
      if (o.book_energy && !books[0].hit) books[0].loss += h * power_lost(model, motion);
    const Real speed_before = crown.speed_y;
    advance(model, forces, extra, h,
            Drive<Real>{positioned ? static_cast<int>(finger) : -1, drive_speed}, motion);
    // A constant mean force moves the crown otherwise than the string's own course of force did:
    // put right along what the strings can move.
    const Real put = settle_crown / det;
    motion.q[shank] += put * (mh * js - mc * jh);
    motion.q[head] += put * (ms * jh - mc * js);
    // What the crown's acceleration was without the string.
    const Real speed_after = js * motion.v[shank] + jh * motion.v[head];
    for (int lane = 0; lane < used; ++lane) {
      const double step_time = T::lane(h, lane);
      if (step_time > 0)
        books[lane].last_accel =
            (T::lane(speed_after, lane) - T::lane(speed_before, lane)) / step_time +
            books[lane].string_now / T::lane(mass, lane);
    }
  }
}

}  // namespace batten::action::detail

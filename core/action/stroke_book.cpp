#include "core/action/stroke_run.hpp"
#include "core/action/strokes.hpp"

#include <cmath>

namespace batten::action::detail {

namespace {

// The key counts as started at this speed of its front, m/s: what an accelerometer on the key shows
// over its noise (estimate).
constexpr double key_start_speed = 0.005;
constexpr double bottom_force = 1;     // N on the front punching: the key is at its bottom
constexpr double caught_force = 0.2;   // N on the check: it holds the tail
constexpr double caught_speed = 0.3;   // m/s: and the hammer has all but stopped
constexpr double jack_under = 5e-5;    // m between jack and knuckle: the jack is back
constexpr double off_string = 1e-5;    // m

// When a value passed a level between two states; linear.
double crossing(double t0, double y0, double t1, double y1, double level) {
  return t0 + (t1 - t0) * (level - y0) / (y1 - y0);
}

// The hammer's greatest speed, by the parabola through the three states around it.
void note_peak(LaneBook& b, const LaneView& a, const LaneView& m, const LaneView& z) {
  if (m.hammer_speed <= b.peak_speed || m.hammer_speed < a.hammer_speed ||
      m.hammer_speed < z.hammer_speed || m.time <= a.time)
    return;
  b.peak_speed = m.hammer_speed;
  b.peak_time = m.time;
  const double s0 = (m.hammer_speed - a.hammer_speed) / (m.time - a.time);
  const double s1 = (z.hammer_speed - m.hammer_speed) / (z.time - m.time);
  const double curve = (s1 - s0) / (z.time - a.time);
  if (curve < 0)
    b.peak_time = std::fmin(std::fmax(0.5 * (a.time + m.time) - s0 / (2 * curve), a.time), z.time);
}

void note_contact(LaneBook& b, const LaneView& now, const StrokeOptions& o) {
  Stroke& s = b.out;
  b.hit = true;
  s.string = crossing(b.last.time, b.last.crown, now.time, now.crown, 0);
  // The string has slowed the hammer by now; before, it flew freely.
  s.hammer_speed = o.to_string || b.string_now <= 0
                       ? crossing(b.last.hammer_speed, b.last.crown, now.hammer_speed, now.crown, 0)
                       : b.last.hammer_speed;
  if (b.last.hammer_speed > b.peak_speed) {
    b.peak_speed = b.last.hammer_speed;
    b.peak_time = b.last.time;
  }
  s.let_off = b.peak_time;
  s.free_flight = s.string - s.let_off;
  s.travel_time = s.string - s.key_start;
  if (o.to_string) b.done = true;
}

void note_after(LaneBook& b, const LaneView& now) {
  Stroke& s = b.out;
  if (std::isnan(s.string_end)) {
    if (b.string_now <= 0 && now.crown > off_string) s.string_end = now.time;
    return;
  }
  if (!b.caught && now.check_force > caught_force && std::abs(now.hammer_speed) < caught_speed) {
    b.caught = true;
    s.check = now.time;
  }
  if (b.caught && now.check_force > caught_force) s.check_distance = now.crown;
  if (std::isnan(s.jack_return) && now.key_speed < 0 && now.jack_gap < jack_under &&
      b.last.jack_gap >= jack_under)
    s.jack_return = now.time;
  if (now.crown > 0 || b.last.crown <= 0) return;
  const bool wanted = b.finger.again_at > 0 && now.time > b.finger.again_at;
  if (wanted && !b.again) {
    b.again = true;
    s.second_speed = b.last.hammer_speed;
    s.second_string = crossing(b.last.time, b.last.crown, now.time, now.crown, 0);
  } else if (!wanted) {
    s.struck_twice = true;
  }
}

// The fingertip and the finger are outside: work counts where it enters the key.
EvaluateOptions without_finger() {
  EvaluateOptions options;
  options.contacts_off = bit(crown_string) | bit(finger_key);
  return options;
}

}  // namespace

void note_events(LaneBook& b, const LaneView& now, const StrokeOptions& o) {
  Stroke& s = b.out;
  const LaneView& last = b.last;
  if (std::isnan(s.key_start) && now.key_speed >= key_start_speed)
    s.key_start = crossing(last.time, last.key_speed, now.time, now.key_speed, key_start_speed);
  s.key_speed = std::fmax(s.key_speed, now.key_speed);
  s.finger_force = std::fmax(s.finger_force, now.finger_force);
  if (std::isnan(s.key_bottom) && now.rail_force >= bottom_force)
    s.key_bottom = crossing(last.time, last.rail_force, now.time, now.rail_force, bottom_force);
  if (b.hit) {
    note_after(b, now);
  } else {
    s.finger_work += 0.5 * (last.finger_force + now.finger_force) * (last.key_y - now.key_y);
    note_peak(b, b.before_last, last, now);
    if (now.crown <= 0) note_contact(b, now, o);
  }
  if (o.keep_trace && now.time >= b.next_trace) {
    s.trace.push_back({now.time, b.rest_key - now.key_y, now.key_speed, now.crown, now.hammer_speed,
                       now.finger_force, b.string_now, now.check_force, now.jack_force,
                       now.rail_force});
    b.next_trace = now.time + o.trace_interval;
  }
  b.before_last = last;
  b.last = now;
}

double stored_energy(const mechanism::Model<double>& model, const Motion<double>& motion) {
  Motion<double> rest = motion;
  rest.q[finger] = rest.v[finger] = 0;
  return calc_energy(model, rest, without_finger()).total();
}

double power_lost(const mechanism::Model<double>& model, const Motion<double>& motion) {
  return calc_loss(model, motion, without_finger()).total();
}

void book_energy(LaneBook& b, const Motion<double>& motion, bool losses_counted) {
  Forces<double> forces;
  prepare(*b.model, forces);
  evaluate(*b.model, motion, without_finger(), forces);
  const auto kinetic = [&](int from, int to) {
    double sum = 0;
    for (int i = from; i <= to; ++i)
      for (int j = from; j <= to; ++j) sum += 0.5 * motion.v[i] * forces.mass[i][j] * motion.v[j];
    return sum;
  };
  Stroke& s = b.out;
  const double gained = stored_energy(*b.model, motion) - b.start_energy;
  s.hammer_energy = kinetic(shank, head);
  s.key_energy = kinetic(lift, key_front);
  s.rest_energy = gained - s.hammer_energy - s.key_energy;
  s.lost_energy = losses_counted ? b.loss : s.finger_work - gained;
  s.balance = s.finger_work - gained - s.lost_energy;
}

}  // namespace batten::action::detail

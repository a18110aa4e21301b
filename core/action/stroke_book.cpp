#include "core/action/stroke_run.hpp"
#include "core/action/strokes.hpp"

#include <cmath>

namespace batten::action {

namespace detail {

// The key counts as started at this speed of its front, m/s: what an accelerometer on the key shows
// over its noise (estimate).
constexpr double key_start_speed = 0.005;

void note_events(LaneBook& b, const LaneView& before, const LaneView& now, const StrokeOptions& o) {
  Stroke& s = b.out;
  const double start = b.time - now.h;
  const auto crossing = [&](double from, double to, double level) {
    return start + now.h * (level - from) / (to - from);
  };
  const double depth0 = b.rest_key - before.key_y, depth1 = b.rest_key - now.key_y;
  if (std::isnan(s.key_start) && now.key_speed >= key_start_speed)
    s.key_start = crossing(before.key_speed, now.key_speed, key_start_speed);
  if (now.key_speed > s.key_speed) s.key_speed = now.key_speed;
  if (now.finger_force > s.finger_force) s.finger_force = now.finger_force;
  if (std::isnan(s.key_bottom) && now.rail_force >= 1)
    s.key_bottom = crossing(before.rail_force, now.rail_force, 1);
  if (!b.hit) {
    s.finger_work += now.finger_force * now.key_speed * now.h;
    if (now.hammer_speed > b.peak_speed) {
      b.peak_speed = now.hammer_speed;
      b.peak_time = b.time;
    }
    if (now.crown <= 0) {
      b.hit = true;
      s.string = crossing(before.crown, now.crown, 0);
      s.hammer_speed =
          now.hammer_speed > before.hammer_speed ? before.hammer_speed : now.hammer_speed;
      const double share = (s.string - start) / now.h;
      s.hammer_speed = before.hammer_speed + share * (now.hammer_speed - before.hammer_speed);
      if (b.string_now > 0) s.hammer_speed = before.hammer_speed;
      s.let_off = b.peak_time;
      s.free_flight = s.string - s.let_off;
      s.travel_time = s.string - s.key_start;
      if (o.to_string) b.done = true;
    }
  } else {
    if (std::isnan(s.string_end) && b.string_now <= 0 && now.crown > 1e-5) s.string_end = b.time;
    if (std::isnan(s.check) && !std::isnan(s.string_end) && now.check_force > 0.2) s.check = b.time;
    if (!b.caught && now.check_force > 0.2 && std::abs(now.hammer_speed) < 0.02) {
      b.caught = true;
    }
    if (b.caught && now.check_force > 0.1) s.check_distance = now.crown;
    if (!std::isnan(s.string_end) && std::isnan(s.jack_return) && depth1 < depth0 &&
        now.jack_gap < 5e-5 && before.jack_gap >= 5e-5)
      s.jack_return = b.time;
    if (b.finger.again_at > 0 && b.time > b.finger.again_at && !b.again && now.crown <= 0) {
      b.again = true;
      s.second_speed = before.hammer_speed;
      s.second_string = b.time;
    }
    if (!std::isnan(s.string_end) && !b.again && now.crown <= 0 && before.crown > 0)
      s.struck_twice = true;
  }
  b.last_speed = now.hammer_speed;
  b.last_crown = now.crown;
  if (o.keep_trace && b.time >= b.next_trace) {
    s.trace.push_back({b.time, depth1, now.key_speed, now.crown, now.hammer_speed, now.finger_force,
                       b.string_now, now.check_force, now.jack_force, now.rail_force});
    b.next_trace = b.time + o.trace_interval;
  }
}

}  // namespace detail

}  // namespace batten::action

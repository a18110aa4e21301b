// Strokes: the finger moves the key, the hammer flies, strikes the string, is caught and comes
// back.
#pragma once

#include "core/action/readings.hpp"

#include <span>
#include <vector>

namespace batten::action {

enum class Touch : std::uint8_t { pressed, struck };

// What the finger does. Exactly one of the three ways of driving the key.
struct Finger {
  enum class Way : std::uint8_t { force, position } way = Way::force;
  Touch touch = Touch::pressed;
  double effort = 5;   // pressed: N reached by the muscle's force; struck: m/s of the finger
  double hold = 0.25;  // s from the start until the finger leaves
  // position: depth of the key's front (m) at equal intervals of `interval` s, held at the last.
  std::vector<double> depths;
  double interval = 1e-3;
};
// Efforts for soft, middling and loud, chosen on the medium profile's C4 to give 1, 2.2 and 4.5
// m/s.
enum class Effort : std::uint8_t { soft, middling, loud };
Finger standard_finger(Effort effort, Touch touch);

struct StrokeOptions {
  double time = 0.150;                        // s computed
  bool to_string = false;                     // end each note at string contact
  double travel = 25e-6;                      // m a contact may close in a step
  double shortest = 20e-6, longest = 200e-6;  // s
  double contact_step = 40e-6;                // s, longest step within 2 mm of the string
  bool keep_trace = false;
  double trace_interval = 0.5e-3;
  bool book_energy = false;    // integrate every loss too; slow
  double release_to = 0;       // m: the finger eases the key back to this depth after `hold` …
  double release_speed = 0.3;  // … at this speed (m/s)
  double again_at = 0;         // s: second stroke, as the first, if > 0
};

struct TracePoint {
  double time = 0;                           // s
  double key_depth = 0, key_speed = 0;       // front, downward positive
  double crown_below = 0, hammer_speed = 0;  // m below the string; m/s upward
  double finger_force = 0, string_force = 0, check_force = 0, jack_force = 0, rail_force = 0;
};

// Times from the finger's start, s (the key's own start is key_start); NaN: did not happen.
struct Stroke {
  double key_start = 0;  // s after the finger's start: front at 5 mm/s
  double let_off = 0;    // maximum hammer speed before the string
  double string = 0;     // first contact
  double string_end = 0;
  double key_bottom = 0;      // front punching first pressed by 1 N
  double check = 0;           // the check holds the tail and the hammer stands
  double jack_return = 0;     // jack back under the knuckle
  double hammer_speed = 0;    // m/s at contact
  double key_speed = 0;       // m/s, greatest
  double finger_force = 0;    // N, greatest
  double string_force = 0;    // N, greatest
  double free_flight = 0;     // s, let-off to string
  double travel_time = 0;     // s, key start to string
  double contact_time = 0;    // s on the string
  double check_distance = 0;  // m, when caught and at rest
  double finger_work = 0;     // J to string contact
  double hammer_energy = 0;   // J there
  double key_energy = 0;      // J there, kinetic
  double rest_energy = 0;     // J there: other parts' motion, springs, felts, height
  double lost_energy = 0;     // J turned to heat by then; without book_energy: all the rest
  double balance = 0;         // J unaccounted for; without book_energy 0
  double second_speed = 0;    // m/s of the second stroke, 0 if none
  double second_string = 0;   // s, its contact
  bool struck_twice = false;  // bounced into the string again by itself
  bool finite = true;
  std::vector<TracePoint> trace;
};

Result<Stroke> calc_stroke(const Note& note, const Finger& finger,
                           const StrokeOptions& options = {});
// All notes with all fingers, note by note; eight go side by side.
std::vector<Result<Stroke>> calc_strokes(std::span<const Note> notes,
                                         std::span<const Finger> fingers,
                                         const StrokeOptions& options = {});

// Shortest period (s) at which a second stroke still reaches at least half the first one's speed,
// the key let up to `partial` (m below rest) between. NaN if none up to 0.5 s.
Result<double> find_repetition(const Note& note, const Finger& finger, double partial);

}  // namespace batten::action

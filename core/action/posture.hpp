// Where every part stands with the key at a depth: what a drawing shows, from the state the solver
// is in.
#pragma once

#include "core/action/readings.hpp"

#include <array>

namespace batten::action {

// A note at rest, pressed or caught. World coordinates as in Layout, m.
struct Posture {
  Note note;
  Layout layout;  // the design at rest, from which parts are moved
  mechanism::Description description;
  mechanism::State state;
  double depth = 0;                              // of the key's front below its rest, m
  double below = 0;                              // crown below the string, m
  double force = 0;                              // of the finger, N
  std::array<double, touching_count> pressed{};  // force in each contact (Touching), N
};

// Where a point of a part stands that lies at `point` (world) in the layout. `part` may be
// mechanism::ground.
Point moved(const Posture& posture, int part, Point point);
// Angle (rad, counter-clockwise) by which the part has turned; 0 for slides and the ground.
double turned(const Posture& posture, int part);

// The key pressed slowly to `depth` (m below rest; 0: at rest), as the slow readings do it. Stops
// at the bottom under 300 g where that comes first. Error: depth negative or above 20 mm, a note
// that cannot be put together, a press that came to no end.
Result<Posture> posture_at(const Note& note, double depth);

// The key driven down at 0.4 m/s and then held at about 3 N: the hammer in check, if it was caught.
// Error: as above.
Result<Posture> posture_after_blow(const Note& note);

// The note put together, every part where the layout has it: for rows of a press already made.
// Error: a note that cannot be put together.
Result<Posture> lay_posture(const Note& note);

// Moves the parts to where they stood in a row of this note's slow press (Readings::down or up).
// The row does not tell every contact's force; `pressed` is left as it was.
void take_row(Posture& posture, const SweepPoint& row);

}  // namespace batten::action

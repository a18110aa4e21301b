// The shapes of a note onto a drawing, for the side view. Internal to drawings.
#pragma once

#include "drawings/shapes.hpp"
#include "drawings/svg.hpp"

namespace batten::svg {

// From the action's plane (m, y up) to the drawing (y down).
struct View {
  double scale = 1000;  // drawing units per metre
  Point origin;         // where the plane's origin lies
  Point operator()(Point p) const { return {origin.x + scale * p.x, origin.y - scale * p.y}; }
};

// Everything that is fixed: rails, string, buttons.
void draw_frame(Drawing& out, const View& view, const action::Posture& posture);
// Everything that moves, each part a group with its name as title.
void draw_parts(Drawing& out, const View& view, const action::Posture& posture, bool sharp);

}  // namespace batten::svg

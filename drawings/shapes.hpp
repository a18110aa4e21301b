// The parts of a note as shapes: what the side view and a screen that moves them both draw.
#pragma once

#include "core/action/posture.hpp"

#include <cstdint>
#include <string_view>
#include <vector>

namespace batten {

using mechanism::Point;

// One outline on a part (or on the ground), given where it lies in the layout: the rest posture of
// the design. action::moved takes its points to where they stand in a posture.
struct Shape {
  enum class Kind : std::uint8_t { polygon, disc, line } kind = Kind::polygon;
  int part = mechanism::ground;  // action::Part
  std::string_view style;        // of the drawings' style sheet: "birch", "felt", "steel" …
  std::vector<Point> points;     // m; of a disc its centre, of a line its ends
  double radius = 0;             // m, of a disc
};

struct ShapeGroup {
  std::string_view code;  // "back-check"
  std::string_view name;  // "back check"
  std::vector<Shape> shapes;
};

// Thickness of a key's wood over the plane its contacts lie in, m (estimate).
inline constexpr double key_thickness = 0.018;

// Everything that is fixed: rails, string, buttons. In the order of drawing, rear to front.
std::vector<ShapeGroup> frame_shapes(const action::Posture& posture);
// Everything that moves; nothing for a damper where there is none. Only where things lie in the
// layout is asked of the posture, not where they stand.
std::vector<ShapeGroup> part_shapes(const action::Posture& posture, bool sharp);

}  // namespace batten

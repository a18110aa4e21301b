#include "drawings/side_parts.hpp"

#include <vector>

namespace batten::svg {

namespace {

using action::moved;
using action::Posture;

void draw(Drawing& out, const View& view, const Posture& posture,
          const std::vector<ShapeGroup>& groups) {
  for (const ShapeGroup& group : groups) {
    out.open(group.name);
    for (const Shape& shape : group.shapes) {
      std::vector<Point> placed;
      placed.reserve(shape.points.size());
      for (const Point p : shape.points) placed.push_back(view(moved(posture, shape.part, p)));
      switch (shape.kind) {
        case Shape::Kind::polygon:
          out.polygon(placed, shape.style);
          break;
        case Shape::Kind::disc:
          out.circle(placed[0], shape.radius * view.scale, shape.style);
          break;
        case Shape::Kind::line:
          out.line(placed[0], placed[1], shape.style);
          break;
      }
    }
    out.close();
  }
}

}  // namespace

void draw_frame(Drawing& out, const View& view, const Posture& posture) {
  draw(out, view, posture, frame_shapes(posture));
}

void draw_parts(Drawing& out, const View& view, const Posture& posture, bool sharp) {
  draw(out, view, posture, part_shapes(posture, sharp));
}

}  // namespace batten::svg

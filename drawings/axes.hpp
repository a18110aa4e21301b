// A panel with two axes. Internal to drawings.
#pragma once

#include "drawings/svg.hpp"

#include <string_view>

namespace batten::svg {

// Values along one side of a panel.
struct Axis {
  double low = 0, high = 1;   // values at the panel's start and end
  double start = 0, end = 1;  // drawing units there
  double operator()(double value) const {
    return start + (value - low) / (high - low) * (end - start);
  }
};

// 1, 2 or 5 times a power of ten, the smallest with at most `most` steps in `range` > 0.
double even_step(double range, int most);

struct Panel {
  double left, top, width, height;
  Axis x, y;
  Point operator()(double at_x, double at_y) const { return {x(at_x), y(at_y)}; }
};

// Values low … high to the right and upward; `y_low` above `y_high` turns the upright axis over.
Panel make_panel(double left, double top, double width, double height, double x_low, double x_high,
                 double y_low, double y_high);

// Frame, grid and figures; names of axes with their units, empty for none. Figures may be left to
// the panel below or to the left.
struct AxisNames {
  std::string_view x, y;
  bool x_figures = true;
  int x_most = 10, y_most = 5;
  bool y_figures = true;
};
void draw_axes(Drawing& out, const Panel& panel, const AxisNames& names);

}  // namespace batten::svg

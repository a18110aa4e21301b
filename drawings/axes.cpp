#include "drawings/axes.hpp"

#include <cmath>

namespace batten::svg {

double even_step(double range, int most) {
  const double least = range / most;
  const double power = std::pow(10, std::floor(std::log10(least)));
  for (const double part : {1.0, 2.0, 5.0})
    if (part * power >= least * (1 - 1e-9)) return part * power;
  return 10 * power;
}

Panel make_panel(double left, double top, double width, double height, double x_low, double x_high,
                 double y_low, double y_high) {
  return {left,
          top,
          width,
          height,
          {x_low, x_high, left, left + width},
          {y_low, y_high, top + height, top}};
}

namespace {

// Calls `each` with every figure of the axis.
template <class Each>
void for_figures(const Axis& axis, int most, Each&& each) {
  const double low = std::fmin(axis.low, axis.high), high = std::fmax(axis.low, axis.high);
  const double step = even_step(high - low, most);
  for (double k = std::ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; ++k) each(k * step);
}

// U+2212 for the minus, as everywhere.
std::string figure(double value) {
  std::string text = number(value);
  if (text.front() == '-') text = "\u2212" + text.substr(1);
  return text;
}

}  // namespace

void draw_axes(Drawing& out, const Panel& p, const AxisNames& names) {
  const double right = p.left + p.width, bottom = p.top + p.height;
  for_figures(p.y, names.y_most, [&](double v) {
    out.line({p.left, p.y(v)}, {right, p.y(v)}, "faint");
    if (names.y_figures) out.text({p.left - 7, p.y(v) + 4}, figure(v), "small quiet e");
  });
  for_figures(p.x, names.x_most, [&](double v) {
    out.line({p.x(v), p.top}, {p.x(v), bottom}, "faint");
    if (names.x_figures) out.text({p.x(v), bottom + 17}, figure(v), "small quiet m");
  });
  out.rectangle({p.left, p.top}, p.width, p.height, "bare rule");
  if (!names.x.empty()) out.text({p.left + p.width / 2, bottom + 36}, names.x, "small m");
  if (!names.y.empty()) out.upright_text({p.left - 44, p.top + p.height / 2}, names.y, "small m");
}

}  // namespace batten::svg

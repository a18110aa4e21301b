#include "core/quantities/text.hpp"
#include "drawings/axes.hpp"
#include "drawings/charts.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace batten {

namespace {

using action::Readings;
using action::SweepPoint;
using svg::Drawing;
using svg::Panel;
using svg::Point;

constexpr double gf = 9.80665e-3;  // N

template <class Value>
std::vector<Point> curve(const Panel& p, const std::vector<SweepPoint>& trace, Value&& value) {
  std::vector<Point> points;
  for (const SweepPoint& row : trace) points.push_back(p(1e3 * row.depth, value(row)));
  return points;
}

struct Mark {
  double depth;  // mm
  std::string words;
};

std::vector<Mark> marks_of(const Readings& r) {
  std::vector<Mark> marks;
  const auto first = [&](auto&& is) { return std::find_if(r.down.begin(), r.down.end(), is); };
  if (const auto at = first([](const SweepPoint& s) { return s.damper_gap <= 0; });
      at != r.down.end() && at != r.down.begin())
    marks.push_back({1e3 * at->depth, "damper"});
  if (const auto at = first([](const SweepPoint& s) { return s.tip_force > 0.02; });
      at != r.down.end())
    marks.push_back({1e3 * at->depth, "drop screw"});
  if (const auto at = first([](const SweepPoint& s) { return s.toe_force > 0.02; });
      at != r.down.end())
    marks.push_back({1e3 * at->depth, "let-off button"});
  if (const auto at = std::min_element(
          r.down.begin(), r.down.end(),
          [](const SweepPoint& a, const SweepPoint& b) { return a.below < b.below; });
      at != r.down.end())
    marks.push_back({1e3 * at->depth, "let-off"});
  if (const auto at = first([](const SweepPoint& s) { return s.front_gap <= 0; });
      at != r.down.end())
    marks.push_back({1e3 * at->depth, "bottom"});
  return marks;
}

}  // namespace

std::string draw_press(const Readings& r, const std::string& title) {
  constexpr double width = 800, height = 620, left = 68, right = 20;
  double deepest = 10, most = 60;
  for (const SweepPoint& s : r.down) {
    deepest = std::max(deepest, 1e3 * s.depth);
    if (s.front_gap > 0) most = std::max(most, s.force / gf);
  }
  const double nearest = 1e3 * std::max(4 * r.let_off, 0.006);
  deepest = std::ceil(2 * deepest + 0.2) / 2;
  const double wide = width - left - right;
  const Panel force =
      svg::make_panel(left, 106, wide, 250, 0, deepest, 0, std::ceil(1.12 * most / 20) * 20);
  const Panel below =
      svg::make_panel(left, 386, wide, 176, 0, deepest, std::isfinite(nearest) ? nearest : 8, 0);
  Drawing out(width, height, title,
              "Force under the finger over the depth of the key in a slow press and release, with "
              "the damper; below it the distance from hammer crown to string near the string. "
              "Let-off " +
                  print_millimetres(r.let_off * metre) + ", drop " +
                  print_millimetres(r.drop * metre) + ", let-off bump " +
                  print_gram_force(r.let_off_bump * newton, {.decimals = 1}) + ", dip " +
                  print_millimetres(r.dip * metre) + ".");
  out.text({16, 28}, title, "head");
  out.text({16, 48}, "Slow press and release, damper included", "quiet");
  svg::draw_axes(out, force, {"", "force at the key front, gf", false});
  svg::draw_axes(out, below, {"key depth, mm", "crown to string, mm"});
  const auto marks = marks_of(r);
  // Names of marks that lie close stand one above the other.
  double row_end[3] = {0, 0, 0};
  for (const Mark& m : marks) {
    const double x = force.x(m.depth), half = 3.9 * static_cast<double>(m.words.size());
    int row = 0;
    while (row < 2 && x - half < row_end[row]) ++row;
    row_end[row] = x + half + 6;
    const double y = 100 - 15.0 * row;
    out.line({x, y + 3}, {x, below.top + below.height}, "rule thin dots");
    out.text({x, y}, m.words, "small m halo");
  }
  const auto in_force = [](const SweepPoint& s) { return s.force / gf; };
  const auto in_below = [](const SweepPoint& s) { return 1e3 * s.below; };
  for (const auto* p : {&force, &below}) {
    const bool upper = p == &force;
    out.open_clipped(upper ? "force" : "crown to string", {p->left, p->top}, p->width, p->height);
    const auto up = upper ? curve(*p, r.up, in_force) : curve(*p, r.up, in_below);
    out.polyline(up, "violet thick dash");
    const auto down = upper ? curve(*p, r.down, in_force) : curve(*p, r.down, in_below);
    out.polyline(down, "ink thick");
    out.close();
  }
  // Which line is which: a key at the foot of the upper panel, where only the rising line is.
  const double key_y = force.top + 18;
  out.line({force.left + 14, key_y}, {force.left + 50, key_y}, "ink thick");
  out.text({force.left + 58, key_y + 4}, "pressed", "small");
  out.line({force.left + 130, key_y}, {force.left + 166, key_y}, "violet thick dash");
  out.text({force.left + 174, key_y + 4}, "let up", "small violet");
  return out.finish();
}

}  // namespace batten

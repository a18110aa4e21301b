#include "drawings/brief_map.hpp"

#include "core/quantities/text.hpp"
#include "drawings/axes.hpp"
#include "drawings/svg.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <string_view>
#include <utility>
#include <vector>

namespace batten {

namespace {

using svg::Drawing;
using svg::Panel;
using svg::Point;

constexpr double width = 800, left = 74, right = 92, top = 84, panel_height = 250, gap = 82,
                 foot = 62;
constexpr double contour_step = 0.4, power_step = 4;  // mm; %

// One register on its panel; everything inside is in mm.
struct Sheet {
  const BriefMap* map;
  Panel panel;
  double scale;  // shown units per mm

  Point at(double blow, double dip) const { return panel(blow * scale, dip * scale); }
  std::string length(double mm) const {
    return scale == 1 ? print_number(mm, {.decimals = 1})
                      : print_number(mm * scale, {.decimals = 3});
  }
};

// Dip at which the escape margin is `level`: it rises by a millimetre with each of the dip. Beyond
// the axes too. Nothing where nothing could be set.
std::optional<double> free_dip_at(const BriefMap& map, int i, double level) {
  const double first = map.at(i, 0).escape_margin;
  if (std::isnan(first)) return std::nullopt;
  return map.axes.dip_low + level - first;
}
std::optional<double> dip_at(const BriefMap& map, int i, double level) {
  const auto dip = free_dip_at(map, i, level);
  if (!dip) return std::nullopt;
  return std::clamp(*dip, map.axes.dip_low, map.axes.dip_high);
}

// The region between two levels of the escape margin.
void fill_between(Drawing& out, const Sheet& s, double low, double high, std::string_view style) {
  std::vector<Point> points, upper;
  for (int i = 0; i < s.map->axes.blows; ++i) {
    const auto a = dip_at(*s.map, i, low), b = dip_at(*s.map, i, high);
    if (!a || !b) continue;
    points.push_back(s.at(s.map->blow(i), *a));
    upper.push_back(s.at(s.map->blow(i), *b));
  }
  points.insert(points.end(), upper.rbegin(), upper.rend());
  if (points.size() >= 4) out.polygon(points, style);
}

// The line of one level, beyond the panel too; empty where it does not come into it.
std::vector<Point> line_of(const Sheet& s, double level) {
  std::vector<Point> points;
  bool inside = false;
  for (int i = 0; i < s.map->axes.blows; ++i) {
    const auto dip = free_dip_at(*s.map, i, level);
    if (!dip) continue;
    inside = inside || (*dip > s.map->axes.dip_low && *dip < s.map->axes.dip_high);
    points.push_back(s.at(s.map->blow(i), *dip));
  }
  return inside ? points : std::vector<Point>{};
}

// Where a line leaves the panel at its top; nothing where it leaves at the right.
std::optional<double> leaves_top(const Panel& panel, const std::vector<Point>& points) {
  for (std::size_t i = 1; i < points.size(); ++i)
    if (points[i].y < panel.top && points[i - 1].y >= panel.top)
      return points[i - 1].x + (panel.top - points[i - 1].y) / (points[i].y - points[i - 1].y) *
                                   (points[i].x - points[i - 1].x);
  return std::nullopt;
}

// Lines at 45° through what lies below the level.
void hatch(Drawing& out, const Sheet& s, double level) {
  constexpr double apart = 11, step = 1.5;
  const Panel& p = s.panel;
  const double bottom = p.top + p.height, end = p.left + p.width;
  const auto edge = [&](double x) {
    const double share = (x - p.left) / p.width * (s.map->axes.blows - 1);
    const int i = std::clamp(static_cast<int>(share), 0, s.map->axes.blows - 2);
    const auto a = dip_at(*s.map, i, level), b = dip_at(*s.map, i + 1, level);
    if (!a || !b) return bottom;
    return s.at(0, *a + (share - i) * (*b - *a)).y;
  };
  const int count = static_cast<int>((p.width + p.height) / apart);
  for (int k = 0; k < count; ++k) {
    const double from = p.left - p.height + apart * k;
    std::optional<Point> begin, last;
    for (int n = 0; n * step <= p.height; ++n) {
      const Point here{from + n * step, bottom - n * step};
      if (here.x < p.left || here.x > end || here.y < edge(here.x)) continue;
      if (!begin) begin = here;
      last = here;
    }
    if (begin && last->x - begin->x > step) out.line(*begin, *last, "brown thin");
  }
}

// Where `value` is nought in each row or column, as one line; NaN breaks it off.
std::vector<Point> zero_line(const Sheet& s, bool by_row,
                             const std::function<double(const MapPoint&)>& value) {
  std::vector<Point> points;
  const BriefMap& m = *s.map;
  const int lines = by_row ? m.axes.dips : m.axes.blows,
            along = by_row ? m.axes.blows : m.axes.dips;
  for (int a = 0; a < lines; ++a)
    for (int k = 1; k < along; ++k) {
      const auto at = [&](int b) { return value(by_row ? m.at(b, a) : m.at(a, b)); };
      const double v = at(k - 1), w = at(k);
      if (!std::isfinite(v) || !std::isfinite(w) || (v < 0) == (w < 0)) continue;
      const double place = k - 1 + v / (v - w);
      points.push_back(by_row ? s.at(m.axes.blow_low + place * (m.blow(1) - m.blow(0)), m.dip(a))
                              : s.at(m.blow(a), m.axes.dip_low + place * (m.dip(1) - m.dip(0))));
      break;
    }
  return points;
}

struct Label {
  double y;
  std::string words, style;
};

// Beside the panel, none over another.
void draw_labels(Drawing& out, const Panel& panel, std::vector<Label> labels) {
  constexpr double line_height = 13;
  std::ranges::sort(labels, {}, &Label::y);
  double last = -1e9;
  for (const Label& l : labels) {
    last = std::max(l.y + 4, last + line_height);
    out.text({panel.left + panel.width + 6, last}, l.words, l.style);
  }
}

void draw_margins(Drawing& out, const Sheet& s, std::vector<Label>& labels) {
  const Panel& p = s.panel;
  const Band& a = s.map->aftertouch;
  out.open_clipped("aftertouch", {p.left, p.top}, p.width, p.height);
  std::vector<std::pair<double, std::string>> above;
  for (int k = 0; k <= 8; ++k) {
    const double level = contour_step * k;
    const auto points = line_of(s, level);
    if (points.size() < 2) continue;
    out.polyline(points, k == 0 ? "red thick" : "ink thin");
    const std::string words = k == 0 ? "no let-off" : s.length(level);
    if (const auto x = leaves_top(p, points))
      above.emplace_back(*x, words);
    else
      labels.push_back({points.back().y, words, k == 0 ? "tiny red" : "tiny"});
  }
  for (const double level : {a.low, a.high})
    if (const auto points = line_of(s, level); points.size() >= 2)
      out.polyline(points, "ink thick");
  out.close();
  for (const auto& [x, words] : above) out.text({x, p.top - 5}, words, "tiny m");
}

void draw_power(Drawing& out, const Sheet& s) {
  constexpr int most = 4;
  for (int k = -most; k <= most; ++k) {
    const double level = power_step * k;
    const auto points = zero_line(s, true, [level](const MapPoint& p) {
      return p.escape_margin > 0 ? p.power - level : std::numeric_limits<double>::quiet_NaN();
    });
    if (points.size() < 3) continue;
    out.polyline(points, "violet dots");
    // Rows rise with the dip: the last point is the uppermost.
    constexpr double room = 16;
    if (points.back().x > s.panel.left + room &&
        points.back().x < s.panel.left + s.panel.width - room)
      out.text({points.back().x, s.panel.top + 14},
               print_number(level, {.decimals = 0, .plus = true}) + " %", "tiny m violet halo");
  }
}

// The regions' names.
void draw_names(Drawing& out, const Sheet& s) {
  const Band& a = s.map->aftertouch;
  constexpr double far = 1e3;  // mm, beyond any margin
  const struct {
    double low, high;
    std::string_view words;
    int place;  // eighths of the blow's axis, from its low end
  } regions[] = {{-far, 0, "no let-off: the key bottoms first", 6},
                 {0, a.low, "thin", 1},
                 {a.low, a.high, "works", 1},
                 {a.high, far, "fat", 1}};
  for (const auto& r : regions) {
    const int i = (s.map->axes.blows - 1) * r.place / 8;
    const auto low = dip_at(*s.map, i, r.low), high = dip_at(*s.map, i, r.high);
    if (!low || !high) continue;
    const Point bottom = s.at(s.map->blow(i), *low), above = s.at(s.map->blow(i), *high);
    if (bottom.y - above.y < 14) continue;
    out.text({bottom.x, 0.5 * (bottom.y + above.y) + 4}, r.words, "small m strong halo");
  }
}

// Points where something else is the matter, few enough to be told apart.
void draw_other_faults(Drawing& out, const Sheet& s) {
  constexpr int every = 2;
  for (int j = 0; j < s.map->axes.dips; j += every)
    for (int i = 0; i < s.map->axes.blows; i += every) {
      const MapPoint& m = s.map->at(i, j);
      const Point c = s.at(s.map->blow(i), s.map->dip(j));
      if (m.has(MapFault::other)) out.circle(c, 2, "dot");
      if (!m.has(MapFault::check)) continue;
      out.line({c.x - 3, c.y - 3}, {c.x + 3, c.y + 3}, "red");
      out.line({c.x - 3, c.y + 3}, {c.x + 3, c.y - 3}, "red");
    }
}

void mark(Drawing& out, const Sheet& s, const BriefPoint& at, bool today) {
  const MapAxes& a = s.map->axes;
  if (at.blow < a.blow_low || at.blow > a.blow_high || at.dip < a.dip_low || at.dip > a.dip_high)
    return;
  const Point p = s.at(at.blow, at.dip);
  if (today) {
    out.circle(p, 5, "raised");
    out.circle(p, 2, "dot");
  } else {
    out.line({p.x - 8, p.y}, {p.x + 8, p.y}, "ink thick");
    out.line({p.x, p.y - 8}, {p.x, p.y + 8}, "ink thick");
  }
  out.text({p.x + 10, p.y - 6}, today ? "today" : "sheet", "small strong halo");
}

void draw_one(Drawing& out, const BriefMap& map, double y, bool inches) {
  const double scale = inches ? 1 / 25.4 : 1;
  const MapAxes& a = map.axes;
  Sheet s{&map,
          svg::make_panel(left, y, width - left - right, panel_height, a.blow_low * scale,
                          a.blow_high * scale, a.dip_low * scale, a.dip_high * scale),
          scale};
  const std::string name = map.where.name + " (" + note_name(map.where.key) + ")";
  constexpr double far = 1e3;  // mm, beyond any margin
  out.open(name);
  out.text({left, y - 20}, name, "strong");
  fill_between(out, s, -far, 0, "minus2");
  fill_between(out, s, 0, map.aftertouch.low, "minus1");
  fill_between(out, s, map.aftertouch.low, map.aftertouch.high, "band");
  fill_between(out, s, map.aftertouch.high, far, "plus1");
  hatch(out, s, 0);
  svg::draw_axes(out, s.panel, {inches ? "blow, in" : "blow, mm", inches ? "dip, in" : "dip, mm"});
  std::vector<Label> labels;
  draw_power(out, s);
  draw_margins(out, s, labels);
  const auto together =
      zero_line(s, false, [](const MapPoint& p) { return p.bottom_less_string[1]; });
  if (together.size() >= 2) {
    out.polyline(together, "blue thick dash");
    if (together.back().x >= s.panel.left + s.panel.width - 1)
      labels.push_back({together.back().y, "together", "tiny blue"});
  }
  draw_names(out, s);
  draw_other_faults(out, s);
  mark(out, s, map.sheet, false);
  if (map.today) mark(out, s, *map.today, true);
  draw_labels(out, s.panel, std::move(labels));
  out.close();
}

void draw_legend(Drawing& out, double y, bool inches) {
  const auto entry = [&](double x, double row, std::string_view style, const std::string& words) {
    out.line({x, row - 4}, {x + 34, row - 4}, style);
    out.text({x + 42, row}, words, "small quiet");
  };
  entry(left, y, "ink thin",
        std::string("aftertouch, ") + (inches ? "in" : "mm") + "; bold: edges of what is needed");
  entry(left + 380, y, "blue thick dash", "key bottom and string together, middling");
  entry(left, y + 22, "violet dots", "hammer speed of a loud stroke, %");
  entry(left + 380, y + 22, "brown thin", "hatched: the hammer is not let go");
}

}  // namespace

std::string draw_brief_map(std::span<const BriefMap> maps, const std::string& title, bool inches) {
  const double height = top + static_cast<double>(maps.size()) * (panel_height + gap) + foot - 20;
  Drawing out(
      width, height, title,
      "Blow to the right, dip upward, one panel for each register. From below: no let-off "
      "(hatched), aftertouch thin, works, aftertouch fat. Thin lines: aftertouch every 0.4 "
      "mm; dashed: key bottom and string together at a middling stroke; dotted: hammer speed "
      "of a loud stroke. A cross marks the sheet, a ring today.");
  out.text({16, 28}, title, "head");
  const bool from_today =
      std::ranges::any_of(maps, [](const BriefMap& m) { return m.today.has_value(); });
  out.text({16, 50},
           std::string("Let-off and drop as on the sheet. Hammer speed against ") +
               (from_today ? "today's where it was read, else the sheet's." : "the sheet's."),
           "small quiet");
  double y = top + 20;
  for (const BriefMap& map : maps) {
    draw_one(out, map, y, inches);
    y += panel_height + gap;
  }
  draw_legend(out, height - 40, inches);
  return out.finish();
}

}  // namespace batten

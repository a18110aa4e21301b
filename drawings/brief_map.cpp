#include "drawings/brief_map.hpp"

#include "core/quantities/text.hpp"
#include "drawings/axes.hpp"
#include "drawings/svg.hpp"

#include <cmath>
#include <functional>
#include <string_view>
#include <utility>
#include <vector>

namespace batten {

namespace {

using svg::Drawing;
using svg::Panel;
using svg::Point;

constexpr double width = 800, left = 74, top = 76, panel_height = 236, gap = 74;

// What a point is filled with; the legend says the words.
std::string_view shade(const BriefMap& map, const MapPoint& p) {
  if (p.has(MapFault::other)) return "shade0";
  if (p.has(MapFault::no_escapement)) return "minus3";
  if (p.has(MapFault::check)) return "minus2";
  if (p.has(MapFault::thin)) return "minus1";
  if (p.has(MapFault::fat)) return "plus1";
  (void)map;
  return "band";
}

// Fields of one row that are alike are one rectangle.
void fill(Drawing& out, const Panel& panel, const BriefMap& map, double scale) {
  const MapAxes& a = map.axes;
  const double half_blow = (a.blow_high - a.blow_low) / (a.blows - 1) / 2;
  const double half_dip = (a.dip_high - a.dip_low) / (a.dips - 1) / 2;
  for (int j = 0; j < a.dips; ++j) {
    for (int i = 0; i < a.blows;) {
      const std::string_view style = shade(map, map.at(i, j));
      int end = i;
      while (end < a.blows && shade(map, map.at(end, j)) == style) ++end;
      const double from = std::max(a.blow_low, map.blow(i) - half_blow);
      const double to = std::min(a.blow_high, map.blow(end - 1) + half_blow);
      const double low = std::max(a.dip_low, map.dip(j) - half_dip);
      const double high = std::min(a.dip_high, map.dip(j) + half_dip);
      const Point corner = panel(from * scale, high * scale);
      const Point other = panel(to * scale, low * scale);
      out.rectangle(corner, other.x - corner.x, other.y - corner.y, std::string(style) + " bare");
      i = end;
    }
  }
}

// Marching squares: pieces of the line where `value` is zero.
void contour(Drawing& out, const Panel& panel, const BriefMap& map, double scale,
             const std::function<double(const MapPoint&)>& value, std::string_view style,
             const std::string& label) {
  const MapAxes& a = map.axes;
  Point last{};
  bool any = false;
  for (int j = 0; j + 1 < a.dips; ++j)
    for (int i = 0; i + 1 < a.blows; ++i) {
      const std::array<std::pair<int, int>, 4> corner{
          {{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}};
      std::vector<Point> cut;
      for (std::size_t k = 0; k < 4; ++k) {
        const auto [i1, j1] = corner[k];
        const auto [i2, j2] = corner[(k + 1) % 4];
        const double v1 = value(map.at(i1, j1)), v2 = value(map.at(i2, j2));
        if (!std::isfinite(v1) || !std::isfinite(v2) || (v1 < 0) == (v2 < 0)) continue;
        const double t = v1 / (v1 - v2);
        cut.push_back(panel((map.blow(i1) + t * (map.blow(i2) - map.blow(i1))) * scale,
                            (map.dip(j1) + t * (map.dip(j2) - map.dip(j1))) * scale));
      }
      if (cut.size() < 2) continue;
      out.line(cut[0], cut[1], style);
      if (!any || cut[0].x > last.x) last = cut[0];
      any = true;
    }
  if (any && !label.empty()) out.text({last.x - 4, last.y - 4}, label, "tiny e halo");
}

void mark(Drawing& out, const Panel& panel, const BriefPoint& at, double scale,
          std::string_view style, std::string_view name) {
  const Point p = panel(at.blow * scale, at.dip * scale);
  if (style == "sheet") {
    out.line({p.x - 6, p.y}, {p.x + 6, p.y}, "ink thick");
    out.line({p.x, p.y - 6}, {p.x, p.y + 6}, "ink thick");
  } else {
    out.circle(p, 5, "ink raised");
  }
  out.text({p.x + 9, p.y + 4}, name, "small strong halo");
}

void draw_one(Drawing& out, const BriefMap& map, double y, bool inches) {
  const double scale = inches ? 1 / 25.4 : 1;
  const MapAxes& a = map.axes;
  const Panel panel = svg::make_panel(left, y, width - left - 24, panel_height, a.blow_low * scale,
                                      a.blow_high * scale, a.dip_low * scale, a.dip_high * scale);
  out.open(map.where.name + " (" + note_name(map.where.key) + ")");
  out.text({left, y - 8}, map.where.name + " (" + note_name(map.where.key) + ")", "strong");
  fill(out, panel, map, scale);
  svg::draw_axes(out, panel, {inches ? "blow, in" : "blow, mm", inches ? "dip, in" : "dip, mm"});
  for (int k = 0; k <= 5; ++k) {
    const double level = 0.4 * k;
    contour(
        out, panel, map, scale, [level](const MapPoint& p) { return p.escape_margin - level; },
        k == 0 ? "red thick" : "ink thin",
        k == 0 ? "no let-off below" : print_number(level * scale, {.decimals = inches ? 3 : 1}));
  }
  contour(
      out, panel, map, scale, [](const MapPoint& p) { return p.bottom_less_string[1]; },
      "blue dash thick", "bottom with the string");
  mark(out, panel, map.sheet, scale, "sheet", "sheet");
  if (map.today) mark(out, panel, *map.today, scale, "today", "today");
  out.close();
}

}  // namespace

std::string draw_brief_map(std::span<const BriefMap> maps, const std::string& title, bool inches) {
  const double height = top + static_cast<double>(maps.size()) * (panel_height + gap) + 40;
  Drawing out(
      width, height, title,
      "Blow to the right, dip upward, one panel for each register. Shaded by what the model "
      "finds: works, thin or fat aftertouch, no let-off. Thin lines: aftertouch.");
  out.text({16, 28}, title, "head");
  out.text({16, 50},
           std::string("Let-off and drop as on the sheet. Thin lines: aftertouch, ") +
               (inches ? "in" : "mm") +
               ". Dashed: key bottom and string together, middling stroke.",
           "small quiet");
  double y = top + 16;
  for (const BriefMap& map : maps) {
    draw_one(out, map, y, inches);
    y += panel_height + gap;
  }
  double x = left;
  const double foot = height - 22;
  for (const auto& [style, words] :
       {std::pair{"band", "works"}, std::pair{"minus1", "aftertouch thin"},
        std::pair{"plus1", "aftertouch fat"}, std::pair{"minus2", "check rubs"},
        std::pair{"minus3", "no let-off"}, std::pair{"shade0", "cannot be set"}}) {
    out.rectangle({x, foot - 12}, 22, 16, style);
    out.text({x + 28, foot + 1}, words, "small quiet");
    x += 34 + 7.6 * static_cast<double>(std::string_view(words).size()) + 8;
  }
  return out.finish();
}

}  // namespace batten

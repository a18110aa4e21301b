#include "core/quantities/text.hpp"
#include "drawings/axes.hpp"
#include "drawings/charts.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace batten {

namespace {

using action::Stroke;
using action::TracePoint;
using svg::Drawing;
using svg::Panel;
using svg::Point;

constexpr double width = 800, height = 640;
constexpr double forces_top = 76, forces_height = 170, heights_top = 262, heights_height = 150;
constexpr double events_top = 428, event_row = 21;

struct Event {
  std::string_view name;
  double at;  // s
};

// The stroke counts from the finger's start; here time counts from the key's.
std::vector<Event> events_of(const Stroke& s) {
  const auto since = [&](double at) { return at - s.key_start; };
  return {{"key starts", 0},           {"let-off", since(s.let_off)},
          {"string", since(s.string)}, {"key bottom", since(s.key_bottom)},
          {"caught", since(s.check)},  {"jack back", since(s.jack_return)}};
}

double ms(double s) { return 1e3 * s; }

// Over the time from the start of the key's motion, points no eye could tell apart left out.
template <class Value>
std::vector<Point> curve(const Panel& p, const Stroke& s, Value&& value) {
  std::vector<Point> points;
  for (const TracePoint& t : s.trace) {
    const Point at = p(ms(t.time - s.key_start), value(t));
    if (at.x < p.left - 5 || at.x > p.left + p.width + 5) continue;
    if (!points.empty() && std::abs(at.x - points.back().x) < 1 &&
        std::abs(at.y - points.back().y) < 0.5)
      continue;
    points.push_back(at);
  }
  return points;
}

// Until a little after the last event, so that a loud stroke is not squeezed by a soft one's time.
double last_time(const Stroke& s) {
  double last = 0.02;
  for (const Event& e : events_of(s))
    if (std::isfinite(e.at)) last = std::max(last, e.at);
  double end = 1e3 * (1.15 * last + 0.004);
  if (!s.trace.empty()) end = std::min(end, ms(s.trace.back().time - s.key_start));
  return end;
}

void draw_forces(Drawing& out, const Panel& p, const Stroke& s) {
  out.open_clipped("forces", {p.left, p.top}, p.width, p.height);
  out.polyline(curve(p, s, [](const TracePoint& t) { return t.jack_force; }), "violet thick dash");
  out.polyline(curve(p, s, [](const TracePoint& t) { return t.string_force; }), "blue thick");
  out.polyline(curve(p, s, [](const TracePoint& t) { return t.finger_force; }), "ink thick");
  out.close();
  // The string's force goes far beyond the panel.
  if (s.string_force > p.y.high) {
    const double x = p.x(ms(s.string - s.key_start)) - 5;
    out.text({x, p.top + 15}, print_newtons(s.string_force * newton, {.decimals = 0}) + " ↑",
             "small blue e halo");
  }
}

void draw_heights(Drawing& out, const Panel& below, const Panel& depth, const Stroke& s) {
  out.open_clipped("heights", {below.left, below.top}, below.width, below.height);
  out.polyline(curve(depth, s, [](const TracePoint& t) { return 1e3 * t.key_depth; }),
               "brown thick dash");
  out.polyline(curve(below, s, [](const TracePoint& t) { return 1e3 * t.crown_below; }),
               "ink thick");
  out.close();
}

void draw_events(Drawing& out, const Panel& p, const Stroke& s, double from_top) {
  double y = events_top + 16;
  for (const Event& e : events_of(s)) {
    const bool known = std::isfinite(e.at) && ms(e.at) <= p.x.high;
    if (known) {
      const double x = p.x(ms(e.at));
      out.line({x, from_top}, {x, y - 4}, "rule thin dots");
      out.circle({x, y - 4}, 3.5, "dot");
      const bool beside = x < p.left + 0.45 * p.width;
      const std::string words =
          std::string(e.name) + " " +
          (e.at == 0 ? print_number(0, {.decimals = 0}) : print_number(ms(e.at), {.decimals = 1}));
      out.text({x + (beside ? 8 : -8), y}, words, beside ? "small halo" : "small e halo");
    } else {
      out.text({p.left + 8, y}, std::string(e.name) + ": not in this time", "small quiet");
    }
    y += event_row;
  }
}

void legend(Drawing& out) {
  struct Line {
    std::string_view style, words, text_style;
  };
  constexpr Line lines[] = {{"ink thick", "finger, and hammer's height", "small"},
                            {"violet thick dash", "jack on knuckle", "small violet"},
                            {"blue thick", "string", "small blue"},
                            {"brown thick dash", "key's depth", "small brown"}};
  double x = 68;
  const double y = height - 14;
  for (const Line& l : lines) {
    out.line({x, y - 4}, {x + 32, y - 4}, l.style);
    out.text({x + 39, y}, l.words, l.text_style);
    x += 39 + 7.3 * static_cast<double>(l.words.size()) + 22;
  }
}

}  // namespace

std::string draw_strokes(std::span<const StrokeColumn> columns, const std::string& title) {
  std::string told = "Strokes over the time from the start of the key's motion.";
  for (const StrokeColumn& c : columns)
    told += " " + c.name + ": hammer " + print_number(c.stroke.hammer_speed, {.decimals = 2}) +
            " m/s, string after " + print_milliseconds(c.stroke.travel_time * second) +
            ", key bottom " +
            print_milliseconds((c.stroke.key_bottom - c.stroke.string) * second,
                               {.decimals = 1, .plus = true}) +
            " against the string.";
  Drawing out(width, height, title, told);
  out.text({16, 28}, title, "head");
  constexpr double left = 68, right = 62, between = 20;
  const double count = static_cast<double>(columns.size());
  const double wide = (width - left - right - between * (count - 1)) / count;
  double most_force = 1, most_below = 40, most_depth = 10;
  for (const StrokeColumn& c : columns)
    for (const TracePoint& t : c.stroke.trace) {
      most_force = std::max({most_force, t.finger_force, t.jack_force});
      most_below = std::max(most_below, 1e3 * t.crown_below);
      most_depth = std::max(most_depth, 1e3 * t.key_depth);
    }
  most_force = std::ceil(1.15 * most_force / 5) * 5;
  most_below = std::ceil(most_below / 10) * 10;
  most_depth = std::ceil(most_depth / 2) * 2;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const Stroke& s = columns[i].stroke;
    const double x = left + static_cast<double>(i) * (wide + between);
    const double end = last_time(s);
    const bool first = i == 0, last = i + 1 == columns.size();
    out.text(
        {x + wide / 2, forces_top - 10},
        columns[i].name + ", hammer " + print_number(s.hammer_speed, {.decimals = 2}) + "\u202fm/s",
        "strong m");
    const Panel force = svg::make_panel(x, forces_top, wide, forces_height, 0, end, 0, most_force);
    const Panel below =
        svg::make_panel(x, heights_top, wide, heights_height, 0, end, most_below, -4);
    // Both start at the panel's foot, the key's scale so that its dip fills the panel too.
    const Panel depth =
        svg::make_panel(x, heights_top, wide, heights_height, 0, end, 0, most_depth * 1.04);
    svg::draw_axes(out, force,
                   {"", first ? "force, N" : "", false, columns.size() > 1 ? 6 : 12, 5, first});
    svg::draw_axes(
        out, below,
        {"", first ? "crown to string, mm" : "", false, columns.size() > 1 ? 6 : 12, 5, first});
    draw_forces(out, force, s);
    draw_heights(out, below, depth, s);
    if (last) {
      const double step = svg::even_step(most_depth, 5);
      for (int k = 0; k * step <= most_depth; ++k)
        out.text({x + wide + 7, depth.y(k * step) + 4}, svg::number(k * step), "small brown");
      out.upright_text({x + wide + 44, heights_top + heights_height / 2}, "key's depth, mm",
                       "small brown m");
    }
    const Panel events = svg::make_panel(x, events_top, wide, 6 * event_row + 6, 0, end, 0, 1);
    svg::draw_axes(out, events, {"time, ms", "", true, columns.size() > 1 ? 6 : 12, 1, false});
    draw_events(out, events, s, forces_top);
  }
  legend(out);
  return out.finish();
}

}  // namespace batten

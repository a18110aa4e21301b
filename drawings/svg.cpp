#include "drawings/svg.hpp"

#include <fmt/format.h>

#include <cmath>

namespace batten::svg {

namespace {

// Contrast against the ground by the WCAG formula, light/dark: ink 14.9/14.7, quiet 5.7/8.3, blue
// 6.6/9.3, brown 6.3/8.1, violet 7.7/8.8, green 5.9/10.1, red 6.2/7.8. Lines that meet differ in
// dash too, and every one is named.
struct Token {
  std::string_view name, light, dark;
};
constexpr Token tokens[] = {
    {"@paper", "#FAF8F3", "#14181A"},  {"@raised", "#FFFFFF", "#1E2427"},
    {"@ink", "#1E2326", "#ECE9E2"},    {"@quiet", "#5A6468", "#A9B2B5"},
    {"@rule", "#8A9296", "#6F797D"},   {"@faint", "#E4E1D8", "#2C3336"},
    {"@blue", "#2F5D7C", "#8FC1E3"},   {"@brown", "#8A4B2A", "#E0A078"},
    {"@violet", "#5B3E96", "#C3A9F4"}, {"@green", "#3B6B3A", "#9BD08F"},
    {"@band", "#DCE8D6", "#23331F"},   {"@red", "#B3261E", "#FF8A80"},
    {"@birch", "#EADBBE", "#5A4C33"},  {"@beech", "#D9C39A", "#6E5C3B"},
    {"@felt", "#F3EFE6", "#4A4D4B"},   {"@steel", "#C9CED1", "#5C666B"},
    {"@plus1", "#E6EEF4", "#1C2A35"},  {"@plus2", "#C9DCE9", "#26435A"},
    {"@plus3", "#A5C6DC", "#2F5D7C"},  {"@minus1", "#F6E9E0", "#33261D"},
    {"@minus2", "#EBCDB8", "#5A3A26"}, {"@minus3", "#DDAE8C", "#7A4A2C"},
    {"@ebony", "#3A3F42", "#050607"},
};

// Colours by class; shapes and type do not change with the light.
constexpr std::string_view coloured[] = {
    ".paper{fill:@paper}",
    ".raised{fill:@raised;stroke:@rule}",
    ".birch{fill:@birch;stroke:@ink}",
    ".beech{fill:@beech;stroke:@ink}",
    ".felt{fill:@felt;stroke:@ink}",
    ".steel{fill:@steel;stroke:@ink}",
    ".ebony{fill:@ebony;stroke:@ink}",
    ".band{fill:@band}",
    ".shade0{fill:@raised}",
    ".plus1{fill:@plus1}",
    ".plus2{fill:@plus2}",
    ".plus3{fill:@plus3}",
    ".minus1{fill:@minus1}",
    ".minus2{fill:@minus2}",
    ".minus3{fill:@minus3}",
    ".ink{stroke:@ink}",
    ".rule{stroke:@rule}",
    ".faint{stroke:@faint}",
    ".blue{stroke:@blue}",
    ".brown{stroke:@brown}",
    ".violet{stroke:@violet}",
    ".green{stroke:@green}",
    ".red{stroke:@red}",
    ".dot{fill:@ink}",
    ".fill-blue{fill:@blue}",
    ".fill-brown{fill:@brown}",
    "text{fill:@ink;stroke:none}",
    "text.quiet{fill:@quiet}",
    "text.blue{fill:@blue;stroke:none}",
    "text.brown{fill:@brown;stroke:none}",
    "text.violet{fill:@violet;stroke:none}",
    "text.green{fill:@green;stroke:none}",
    "text.red{fill:@red;stroke:none}",
    "text.halo{stroke:@paper;stroke-width:4;stroke-linejoin:round;paint-order:stroke}",
    "text.over{fill:@raised}",
};
constexpr std::string_view shaped =
    "line,polyline,.bare{fill:none;stroke-width:1}polygon,rect,circle{stroke-width:1;"
    "stroke-linejoin:round}rect.paper,rect.band,.dot,rect.fill-blue,rect.fill-brown{stroke:none}"
    "line.thick,polyline.thick{stroke-width:2.2;stroke-linejoin:round;stroke-linecap:round}"
    "line.thin,polyline.thin,polygon.thin,circle.thin{stroke-width:.6}"
    ".dash{stroke-dasharray:7 4}.dots{stroke-dasharray:2 3}"
    "text{font:13px system-ui,'DejaVu Sans',sans-serif;font-variant-numeric:tabular-nums}"
    "text.small{font-size:12px}text.tiny{font-size:11px}text.strong{font-weight:bold}text.head{"
    "font-size:17px;"
    "font-weight:bold}text.m{text-anchor:middle}text.e{text-anchor:end}";

std::string in_light(std::string_view rule, bool dark) {
  std::string out(rule);
  for (const Token& t : tokens)
    for (auto at = out.find(t.name); at != std::string::npos; at = out.find(t.name, at))
      out.replace(at, t.name.size(), dark ? t.dark : t.light);
  return out;
}

std::string style_sheet() {
  std::string out = "<style>\n" + std::string(shaped) + "\n";
  for (const std::string_view rule : coloured) out += in_light(rule, false);
  out += "\n@media (prefers-color-scheme:dark){";
  for (const std::string_view rule : coloured) out += in_light(rule, true);
  return out + "}\n</style>\n";
}

std::string joined(std::span<const Point> points) {
  std::string out;
  for (const Point p : points) out += (out.empty() ? "" : " ") + number(p.x) + "," + number(p.y);
  return out;
}

}  // namespace

std::string number(double value) {
  std::string text = fmt::format("{:.2f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) out += c;
    }
  }
  return out;
}

Drawing::Drawing(double width, double height, std::string_view title,
                 std::string_view description) {
  head_ = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" width=\"{0}\" "
      "height=\"{1}\" role=\"img\" aria-labelledby=\"title desc\">\n"
      "<title id=\"title\">{2}</title>\n<desc id=\"desc\">{3}</desc>\n",
      number(width), number(height), escaped(title), escaped(description));
  rectangle({0, 0}, width, height, "paper");
}

void Drawing::line(Point a, Point b, std::string_view style) {
  body_ += fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" class=\"{}\"/>\n",
                       number(a.x), number(a.y), number(b.x), number(b.y), style);
}

void Drawing::polyline(std::span<const Point> points, std::string_view style) {
  body_ += fmt::format("<polyline points=\"{}\" class=\"{}\"/>\n", joined(points), style);
}

void Drawing::polygon(std::span<const Point> points, std::string_view style) {
  body_ += fmt::format("<polygon points=\"{}\" class=\"{}\"/>\n", joined(points), style);
}

void Drawing::circle(Point centre, double radius, std::string_view style) {
  body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" class=\"{}\"/>\n", number(centre.x),
                       number(centre.y), number(radius), style);
}

void Drawing::rectangle(Point corner, double width, double height, std::string_view style) {
  body_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" class=\"{}\"/>\n",
                       number(corner.x), number(corner.y), number(width), number(height), style);
}

void Drawing::text(Point at, std::string_view words, std::string_view style) {
  body_ += fmt::format("<text x=\"{}\" y=\"{}\" class=\"{}\">{}</text>\n", number(at.x),
                       number(at.y), style, escaped(words));
}

void Drawing::upright_text(Point at, std::string_view words, std::string_view style) {
  body_ += fmt::format("<text transform=\"translate({} {}) rotate(-90)\" class=\"{}\">{}</text>\n",
                       number(at.x), number(at.y), style, escaped(words));
}

void Drawing::arrow(Point tail, Point tip, std::string_view style) {
  line(tail, tip, style);
  const double dx = tip.x - tail.x, dy = tip.y - tail.y, length = std::hypot(dx, dy);
  if (length < 1e-9) return;
  const double ux = dx / length, uy = dy / length, size = std::fmin(6, length);
  const auto barb = [&](double side) {
    return Point{tip.x - size * ux + side * 0.45 * size * uy,
                 tip.y - size * uy - side * 0.45 * size * ux};
  };
  const Point head[] = {barb(1), tip, barb(-1)};
  polyline(head, style);
}

void Drawing::open(std::string_view title) {
  body_ += fmt::format("<g><title>{}</title>\n", escaped(title));
}

void Drawing::open_clipped(std::string_view title, Point corner, double width, double height) {
  ++clips_;
  body_ += fmt::format(
      "<clipPath id=\"clip{0}\"><rect x=\"{1}\" y=\"{2}\" width=\"{3}\" height=\"{4}\"/>"
      "</clipPath>\n<g clip-path=\"url(#clip{0})\"><title>{5}</title>\n",
      clips_, number(corner.x), number(corner.y), number(width), number(height), escaped(title));
}

void Drawing::close() { body_ += "</g>\n"; }

std::string Drawing::finish() const { return head_ + style_sheet() + body_ + "</svg>\n"; }

}  // namespace batten::svg

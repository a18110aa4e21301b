#include "drawings/shapes.hpp"

#include "core/action/dimensions.hpp"
#include "core/action/layout.hpp"

#include <cmath>
#include <numbers>
#include <utility>

namespace batten {

namespace {

using action::Dimensions;
using action::Layout;
using action::Posture;

Point at(Point origin, double a, Point along, double b, Point across) {
  return {origin.x + a * along.x + b * across.x, origin.y + a * along.y + b * across.y};
}

struct Shapes {
  std::vector<ShapeGroup> groups;
  // What follows belongs together and is called so.
  void open(std::string_view code, std::string_view name) { groups.push_back({code, name, {}}); }
  void add(Shape shape) { groups.back().shapes.push_back(std::move(shape)); }
};

// Adds shapes on one part of the note (or on the ground).
struct On {
  Shapes& out;
  int part = mechanism::ground;

  void polygon(std::vector<Point> shape, std::string_view style) const {
    out.add({Shape::Kind::polygon, part, style, std::move(shape)});
  }
  // A bar of even thickness from a to b.
  void bar(Point a, Point b, double thickness, std::string_view style) const {
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    const Point n{-(b.y - a.y) / length * thickness / 2, (b.x - a.x) / length * thickness / 2};
    polygon({{a.x + n.x, a.y + n.y},
             {b.x + n.x, b.y + n.y},
             {b.x - n.x, b.y - n.y},
             {a.x - n.x, a.y - n.y}},
            style);
  }
  void box(double left, double low, double right, double high, std::string_view style) const {
    polygon({{left, low}, {right, low}, {right, high}, {left, high}}, style);
  }
  void disc(Point centre, double radius, std::string_view style) const {
    out.add({Shape::Kind::disc, part, style, {centre}, radius});
  }
  void pin(Point centre) const {
    disc(centre, 0.0022, "steel");
    disc(centre, 0.0007, "dot");
  }
  void line(Point a, Point b, std::string_view style) const {
    out.add({Shape::Kind::line, part, style, {a, b}});
  }
};

void add_key(Shapes& out, const Posture& p, bool sharp) {
  const Layout& l = p.layout;
  const Dimensions& d = p.note.dimensions;
  const double rear = d.damper_x + 0.006;
  constexpr double cover = 0.012;  // the finger plays behind the front edge
  out.open("key", "key");
  const On front = On{out, action::key_front}, back = On{out, action::key_rear};
  back.box(0, 0, rear, key_thickness, "birch");
  front.box(-d.key_front - cover, 0, 0, key_thickness, "birch");
  // A sharp's head stands over the naturals; theirs carries a cover.
  if (sharp)
    front.polygon({{-d.key_front - cover, key_thickness},
                   {-d.key_front - cover + 0.004, key_thickness + 0.011},
                   {-d.key_front + 0.080, key_thickness + 0.011},
                   {-d.key_front + 0.083, key_thickness}},
                  "ebony");
  else
    front.box(-d.key_front - cover - 0.001, key_thickness, -d.key_front + 0.135,
              key_thickness + 0.002, "felt");
  out.open("capstan", "capstan");
  const Point stem{l.capstan.x, key_thickness};
  back.bar(stem, {l.capstan.x, l.capstan.y - 0.002}, 0.005, "steel");
  back.disc(l.capstan, d.capstan_radius, "steel");
  out.open("back-check", "back check");
  const Point along{l.check_normal.y, -l.check_normal.x};
  constexpr double thick = 0.007, half = 0.0125;
  const Point up = along.y > 0 ? along : Point{-along.x, -along.y};
  const Point middle = at(l.check, -thick, l.check_normal, 0, up);
  back.bar({middle.x - 0.010, key_thickness}, at(middle, -half + 0.003, up, 0, up), 0.0022,
           "steel");
  back.polygon({at(l.check, half, up, 0, up), at(l.check, -half, up, 0, up),
                at(l.check, -half, up, -thick, l.check_normal),
                at(l.check, half, up, -thick, l.check_normal)},
               "beech");
  back.polygon({at(l.check, half, up, 0, up), at(l.check, -half, up, 0, up),
                at(l.check, -half, up, -0.0025, l.check_normal),
                at(l.check, half, up, -0.0025, l.check_normal)},
               "felt");
}

void add_wippen(Shapes& out, const Posture& p) {
  const Layout& l = p.layout;
  const On w = On{out, action::wippen};
  out.open("wippen", "wippen");
  const Point slope{-l.heel_normal.y, l.heel_normal.x};  // along the heel, to the rear
  const Point inside{-l.heel_normal.x, -l.heel_normal.y};
  const double low = std::fmin(l.jack_pin.y, l.wippen_pin.y) - 0.005;
  w.polygon({at(l.heel, -0.010, slope, 0.002, inside),
             at(l.heel, 0.011, slope, 0.002, inside),
             {l.heel.x + 0.009, low + 0.004},
             {l.heel.x - 0.009, low + 0.004}},
            "birch");
  w.polygon({at(l.heel, -0.010, slope, 0, inside), at(l.heel, 0.011, slope, 0, inside),
             at(l.heel, 0.011, slope, 0.002, inside), at(l.heel, -0.010, slope, 0.002, inside)},
            "felt");
  w.polygon({{l.jack_pin.x - 0.006, l.jack_pin.y - 0.005},
             {l.wippen_pin.x + 0.006, l.wippen_pin.y - 0.005},
             {l.wippen_pin.x + 0.006, l.wippen_pin.y + 0.005},
             {l.jack_pin.x - 0.006, l.jack_pin.y + 0.005}},
            "birch");
  w.polygon({{l.lever_pin.x - 0.005, l.jack_pin.y + 0.004},
             {l.lever_pin.x + 0.010, l.jack_pin.y + 0.004},
             {l.lever_pin.x + 0.005, l.lever_pin.y + 0.004},
             {l.lever_pin.x - 0.004, l.lever_pin.y + 0.004}},
            "birch");
  w.pin(l.wippen_pin);
}

void add_lever(Shapes& out, const Posture& p) {
  const Layout& l = p.layout;
  const On lever = On{out, action::lever};
  const Point along{l.lever_normal.y, -l.lever_normal.x};  // to the rear
  out.open("repetition-lever", "repetition lever");
  const double tip = -p.note.dimensions.lever_tip;
  constexpr double thick = 0.0055;
  const double pin = p.note.dimensions.lever_pin_behind;
  lever.polygon({at(l.lever_top, tip, along, 0, l.lever_normal),
                 at(l.lever_top, 0.012, along, 0, l.lever_normal),
                 at(l.lever_top, pin + 0.008, along, -0.001, l.lever_normal),
                 at(l.lever_top, pin + 0.008, along, -0.001 - thick, l.lever_normal),
                 at(l.lever_top, tip, along, -thick, l.lever_normal)},
                "beech");
  lever.disc(l.lever_tip, p.note.dimensions.lever_tip_radius, "felt");
  lever.pin(l.lever_pin);
}

void add_jack(Shapes& out, const Posture& p) {
  const Layout& l = p.layout;
  const Dimensions& d = p.note.dimensions;
  const On jack = On{out, action::jack};
  out.open("jack", "jack");
  jack.bar(l.jack_pin, l.toe, 0.004, "birch");
  const double top = l.jack_half_height;
  const auto corner = [&](double across, double up) {
    return at(l.jack_top, across, l.jack_across, up, l.jack_along);
  };
  // The corners that trip are round.
  std::vector<Point> shape{at(l.jack_pin, -0.004, l.jack_across, -0.002, l.jack_along),
                           at(l.jack_pin, 0.004, l.jack_across, -0.002, l.jack_along)};
  for (const double side : {1.0, -1.0}) {
    for (int k = 0; k <= 4; ++k) {
      const double turn = side > 0 ? 0.125 * k * std::numbers::pi
                                   : 0.5 * std::numbers::pi - 0.125 * k * std::numbers::pi;
      const double r = d.jack_top_corner;
      shape.push_back(corner(side * (l.jack_half_width - r + r * std::cos(turn)),
                             top - r + r * std::sin(turn)));
    }
  }
  jack.polygon(shape, "birch");
  jack.disc(l.toe, d.jack_toe_radius, "birch");
  jack.pin(l.jack_pin);
}

void add_hammer(Shapes& out, const Posture& p) {
  const Layout& l = p.layout;
  const Dimensions& d = p.note.dimensions;
  const On shank = On{out, action::shank}, head = On{out, action::head};
  const Point a = l.shank_along, c = l.shank_across;
  const auto own = [&](double along, double across) {
    return at(l.hammer_pin, along, a, across, c);
  };
  out.open("hammer", "hammer");
  shank.polygon({own(-0.004, -0.004), own(d.knuckle_x + 0.012, -0.004), own(d.shank_hinge, -0.0028),
                 own(d.shank_hinge, 0.0028), own(-0.004, 0.004)},
                "birch");
  head.bar(own(d.shank_hinge, 0), own(d.hammer_length - 0.005, 0), 0.0056, "birch");
  // Tail between its arc and the head's wood.
  std::vector<Point> tail;
  for (int k = 0; k <= 8; ++k) {
    const double angle = d.tail_to + (d.tail_from - d.tail_to) * k / 8;
    tail.push_back(own(d.tail_x + d.tail_radius * std::cos(angle),
                       d.tail_y + d.tail_radius * std::sin(angle)));
  }
  tail.push_back(own(d.hammer_length - 0.009, -0.018));
  tail.push_back(own(d.hammer_length - 0.007, 0.006));
  tail.push_back(own(d.hammer_length + 0.006, 0.006));
  head.polygon(tail, "beech");
  const double width = 0.0125 * std::cbrt(d.head_mass / 0.0085);
  const double crown = d.hammer_bore;
  head.polygon(
      {own(d.hammer_length - 0.007, 0.004), own(d.hammer_length + 0.007, 0.004),
       own(d.hammer_length + 0.0025, crown - 0.010), own(d.hammer_length - 0.0025, crown - 0.010)},
      "beech");
  std::vector<Point> felt;
  for (int k = 0; k < 40; ++k) {
    const double t = 2 * std::numbers::pi * k / 40, top = std::cos(t);
    felt.push_back(
        own(d.hammer_length + width * std::sin(t) * (1 - 0.22 * top), crown - 0.017 + 0.017 * top));
  }
  head.polygon(felt, "felt");
  head.polygon({own(d.hammer_length - 0.005, crown - 0.034),
                own(d.hammer_length + 0.005, crown - 0.034), own(d.hammer_length, crown - 0.010)},
               "beech");
  shank.disc(l.knuckle, d.knuckle_radius, "felt");
  shank.line(own(d.knuckle_x, -0.004), own(d.knuckle_x, d.knuckle_y - d.knuckle_radius * 0.5),
             "ink");
  shank.pin(l.hammer_pin);
}

void add_damper(Shapes& out, const Posture& p) {
  const Layout& l = p.layout;
  const Dimensions& d = p.note.dimensions;
  if (d.damper_start > 1) return;
  const On damper = On{out, action::damper};
  const double gap = p.description.contacts[action::key_damper].line.point.y;
  const double foot = l.damper_foot.y + key_thickness + gap;
  out.open("damper", "damper");
  damper.box(d.damper_x - 0.010, foot, d.damper_x + 0.010, foot + 0.008, "beech");
  damper.box(d.damper_x - 0.010, foot, d.damper_x + 0.010, foot + 0.002, "felt");
  damper.bar({d.damper_x, foot + 0.008}, {d.damper_x, l.string_height + 0.010}, 0.0016, "steel");
  damper.box(d.damper_x - 0.012, l.string_height, d.damper_x + 0.012, l.string_height + 0.006,
             "felt");
  damper.box(d.damper_x - 0.012, l.string_height + 0.006, d.damper_x + 0.012,
             l.string_height + 0.017, "ebony");
}

}  // namespace

std::vector<ShapeGroup> frame_shapes(const Posture& p) {
  Shapes out;
  const Layout& l = p.layout;
  const Dimensions& d = p.note.dimensions;
  const On fixed = On{out, mechanism::ground};
  constexpr double bed = -0.024, rail = -0.010;
  out.open("key-frame", "key frame with balance, front and back rail");
  fixed.box(-d.key_front - 0.012, bed, d.damper_x + 0.012, bed - 0.004, "beech");
  fixed.box(-0.014, bed, 0.014, l.balance.y - 0.002, "beech");
  fixed.box(-0.006, l.balance.y - 0.002, 0.006, l.balance.y, "felt");
  fixed.box(-d.front_rail - 0.012, bed, -d.front_rail + 0.012, rail - 0.004, "beech");
  fixed.box(-d.front_rail - 0.008, rail - 0.004, -d.front_rail + 0.008, l.front_punching.y, "felt");
  fixed.box(d.back_rail - 0.014, bed, d.back_rail + 0.014, l.back_rest.y - 0.005, "beech");
  fixed.box(d.back_rail - 0.014, l.back_rest.y - 0.005, d.back_rail + 0.014, l.back_rest.y, "felt");
  out.open("string", "string");
  fixed.line({l.crown.x - 0.085, l.string_height}, {d.damper_x + 0.020, l.string_height},
             "blue thick");
  out.open("flanges", "hammer and wippen flanges");
  fixed.polygon({{l.hammer_pin.x - 0.022, l.hammer_pin.y - 0.003},
                 {l.hammer_pin.x + 0.003, l.hammer_pin.y - 0.004},
                 {l.hammer_pin.x + 0.003, l.hammer_pin.y + 0.004},
                 {l.hammer_pin.x - 0.022, l.hammer_pin.y + 0.009}},
                "birch");
  fixed.polygon({{l.wippen_pin.x - 0.003, l.wippen_pin.y - 0.003},
                 {l.wippen_pin.x + 0.004, l.wippen_pin.y - 0.003},
                 {l.wippen_pin.x + 0.012, l.wippen_pin.y + 0.020},
                 {l.wippen_pin.x + 0.003, l.wippen_pin.y + 0.020}},
                "birch");
  out.open("let-off-button", "let-off button");
  fixed.bar({l.button.x, l.button.y + 0.003}, {l.button.x, l.toe.y + 0.026}, 0.002, "steel");
  fixed.box(l.button.x - 0.005, l.button.y + 0.0015, l.button.x + 0.005, l.button.y + 0.005,
            "beech");
  fixed.box(l.button.x - 0.005, l.button.y, l.button.x + 0.005, l.button.y + 0.0015, "felt");
  fixed.box(l.button.x - 0.009, l.toe.y + 0.022, l.button.x + 0.005, l.toe.y + 0.034, "beech");
  out.open("drop-screw", "drop screw");
  fixed.bar({l.drop.x, l.drop.y}, {l.drop.x, l.hammer_pin.y + 0.004}, 0.0024, "steel");
  fixed.bar({l.drop.x - 0.0035, l.drop.y + 0.0007}, {l.drop.x + 0.0035, l.drop.y + 0.0007}, 0.0014,
            "steel");
  out.open("rest-cushion", "rest cushion");
  fixed.polygon({at(l.cushion, -0.010, l.shank_along, 0, l.cushion_normal),
                 at(l.cushion, 0.010, l.shank_along, 0, l.cushion_normal),
                 at(l.cushion, 0.010, l.shank_along, -0.004, l.cushion_normal),
                 at(l.cushion, -0.010, l.shank_along, -0.004, l.cushion_normal)},
                "felt");
  return std::move(out.groups);
}

std::vector<ShapeGroup> part_shapes(const Posture& posture, bool sharp) {
  Shapes out;
  add_damper(out, posture);
  add_key(out, posture, sharp);
  add_wippen(out, posture);
  add_lever(out, posture);
  add_jack(out, posture);
  add_hammer(out, posture);
  return std::move(out.groups);
}

}  // namespace batten

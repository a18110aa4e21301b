#include "core/action/assembly.hpp"

#include <cmath>

namespace batten::action {

namespace {

using mechanism::Body;
using mechanism::Contact;
using mechanism::contact_law;
using mechanism::ContactLaw;
using mechanism::Description;
using mechanism::ground;
using mechanism::JointKind;
using mechanism::RoundKind;
using mechanism::SolidKind;

Point from(Point origin, Point p) { return {p.x - origin.x, p.y - origin.y}; }
Point between(Point a, Point b, double share) {
  return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

Contact point_on_line(const char* name, int round, Point at, double radius, int solid, Point line,
                      Point normal, const ContactLaw& law) {
  Contact c;
  c.name = name;
  c.round_body = round;
  c.arc.centre = at;
  c.arc.radius = radius;
  c.solid_body = solid;
  c.line = {line, normal};
  c.law = law;
  return c;
}

void add_key(const Dimensions& d, const Layout& l, Description& out) {
  Body rail{.name = "lift", .joint = JointKind::slide, .at = l.balance};
  out.bodies.push_back(rail);
  // Rear and front halves, each with half the wood; leads in front of the balance point.
  const double half = d.key_mass / 2;
  const double arm = std::sqrt(d.key_inertia / d.key_mass);  // radius of gyration of either half
  Body rear{.name = "key rear", .parent = lift, .mass = half, .centre = {0.5 * d.key_front, 0}};
  rear.inertia = std::fmax(0.0, half * arm * arm - half * rear.centre.x * rear.centre.x);
  Body front{.name = "key front", .parent = lift, .mass = half, .centre = {-0.5 * d.key_front, 0}};
  front.inertia = std::fmax(0.0, half * arm * arm - half * front.centre.x * front.centre.x);
  const double about = front.inertia + half * front.centre.x * front.centre.x +
                       std::abs(d.lead_mass) * d.lead_place * d.lead_place;
  // A lead behind the balance point weighs as one in front that pulls up, but its inertia adds.
  const double lead = std::abs(d.lead_mass);
  const double side = d.lead_mass < 0 ? 1 : -1;
  front.mass = half + lead;
  front.centre.x = (half * front.centre.x + lead * side * d.lead_place) / front.mass;
  front.inertia = about - front.mass * front.centre.x * front.centre.x;
  out.bodies.push_back(rear);
  out.bodies.push_back(front);
}

void add_action(const Dimensions& d, const Layout& l, Description& out) {
  out.bodies.push_back({.name = "wippen",
                        .at = l.wippen_pin,
                        .mass = d.wippen_mass,
                        .centre = {-d.wippen_centre, 0},
                        .inertia = d.wippen_inertia});
  out.bodies.push_back({.name = "jack",
                        .parent = wippen,
                        .at = from(l.wippen_pin, l.jack_pin),
                        .mass = d.jack_mass,
                        .centre = {d.jack_centre * l.jack_along.x, d.jack_centre * l.jack_along.y},
                        .inertia = d.jack_inertia});
  const Point lever_along{l.lever_normal.y, -l.lever_normal.x};
  out.bodies.push_back(
      {.name = "lever",
       .parent = wippen,
       .at = from(l.wippen_pin, l.lever_pin),
       .mass = d.lever_mass,
       .centre = {-d.lever_centre * lever_along.x, -d.lever_centre * lever_along.y},
       .inertia = d.lever_inertia});
  // The shank is a uniform rod from the pin to the head, cut where its bending is put.
  const double inner = d.shank_hinge / d.hammer_length, outer = 1 - inner;
  const double inner_mass = d.shank_mass * inner, outer_mass = d.shank_mass * outer;
  const double outer_length = d.hammer_length - d.shank_hinge;
  out.bodies.push_back({.name = "shank",
                        .at = l.hammer_pin,
                        .mass = inner_mass,
                        .centre = from(l.hammer_pin, between(l.hammer_pin, l.hinge, 0.5)),
                        .inertia = inner_mass * d.shank_hinge * d.shank_hinge / 12});
  const Point rod = from(l.hinge, between(l.hinge, l.head_foot, 0.5));
  const Point lump = from(l.hinge, l.head_centre);
  const double mass = outer_mass + d.head_mass;
  const Point centre{(outer_mass * rod.x + d.head_mass * lump.x) / mass,
                     (outer_mass * rod.y + d.head_mass * lump.y) / mass};
  const auto off = [&](Point p) {
    return (p.x - centre.x) * (p.x - centre.x) + (p.y - centre.y) * (p.y - centre.y);
  };
  out.bodies.push_back({.name = "head",
                        .parent = shank,
                        .at = from(l.hammer_pin, l.hinge),
                        .mass = mass,
                        .centre = centre,
                        .inertia = d.head_inertia + d.head_mass * off(lump) +
                                   outer_mass * (outer_length * outer_length / 12 + off(rod))});
  out.bodies.push_back(
      {.name = "damper", .joint = JointKind::slide, .at = l.damper_foot, .mass = d.damper_mass});
}

void add_contacts(const Dimensions& d, const Adjustments& a, const Layout& l, Description& out) {
  auto& c = out.contacts;
  // A fingertip gives about 2.5 mm under 8 N, stiffening (Serina, Mote & Rempel, J. Biomech. 30
  // (1997); figures from memory). A gauge or a weight gives nothing to speak of.
  c.push_back(point_on_line("finger on key", finger, {0, 0}, 0, key_front, {-d.key_front, 0},
                            {0, 1}, contact_law(10, 1e-4, 3, 0.5)));
  c.push_back(point_on_line(
      "capstan on heel", key_rear, l.capstan, d.capstan_radius, wippen, from(l.wippen_pin, l.heel),
      l.heel_normal,
      contact_law(d.capstan_felt_force, d.capstan_felt_depth, 5, 0.6, d.capstan_friction_felt)));
  // Key and capstan are given in the key's frame, whose origin is its pin.
  Contact knuckle;
  knuckle.name = "jack under knuckle";
  knuckle.round_body = shank;
  knuckle.arc.centre = from(l.hammer_pin, l.knuckle);
  knuckle.arc.radius = d.knuckle_radius;
  knuckle.solid_body = jack;
  knuckle.solid = SolidKind::box;
  knuckle.box = {from(l.jack_pin, l.jack_top), l.jack_half_width, l.jack_half_height,
                 d.jack_top_corner, l.jack_angle};
  knuckle.law = contact_law(d.knuckle_force, d.knuckle_depth, 4, 0.6, d.knuckle_friction_leather);
  c.push_back(knuckle);
  c.push_back(point_on_line("lever under knuckle", shank, from(l.hammer_pin, l.knuckle),
                            d.knuckle_radius, lever, from(l.lever_pin, l.lever_top), l.lever_normal,
                            knuckle.law));
  c.push_back(point_on_line(
      "toe at button", jack, from(l.jack_pin, l.toe), d.jack_toe_radius, ground, l.button, {0, -1},
      contact_law(d.button_force, d.button_depth, 4, 0.8, d.button_friction)));
  c.push_back(point_on_line("lever at drop screw", lever, from(l.lever_pin, l.lever_tip),
                            d.lever_tip_radius, ground, l.drop, {0, -1},
                            contact_law(d.drop_force, d.drop_depth, 4, 0.8, d.button_friction)));
  // The tail belongs to the head's body, described from the hinge.
  Contact tail = point_on_line("tail at check", head, from(l.hinge, l.tail), d.tail_radius,
                               key_rear, l.check, l.check_normal,
                               contact_law(d.check_force, d.check_depth, 4, 0.8, d.check_friction));
  tail.round = RoundKind::arc;
  tail.arc.from = l.tail_from;
  tail.arc.to = l.tail_to;
  c.push_back(tail);
  c.push_back(point_on_line("crown at string", head, from(l.hinge, l.crown), 0, ground,
                            {0, l.string_height}, {0, -1}, contact_law(20, 2e-4, 5, 0.3)));
  c.push_back(point_on_line("key on front rail", key_front, {-d.front_rail, 0}, 0, ground,
                            l.front_punching, {0, 1},
                            contact_law(d.front_felt_force, d.front_felt_depth, 5, 0.8)));
  c.push_back(point_on_line("key on back rail", key_rear, {d.back_rail, 0}, 0, ground, l.back_rest,
                            {0, 1}, contact_law(d.back_felt_force, d.back_felt_depth, 4, 0.8)));
  const Point under{l.hammer_pin.x + d.cushion_x * l.shank_along.x,
                    l.hammer_pin.y + d.cushion_x * l.shank_along.y};
  // On the head's side of the hinge where the cushion lies there.
  const bool outside = d.cushion_x > d.shank_hinge;
  c.push_back(point_on_line("shank on cushion", outside ? head : shank,
                            from(outside ? l.hinge : l.hammer_pin, under), 0.003, ground, l.cushion,
                            l.cushion_normal,
                            contact_law(d.cushion_force, d.cushion_depth, 4, 0.8)));
  // Mean ratio of hammer to key travel, to place the damper of the design; its reading is computed.
  constexpr double usual_ratio = 5.1;
  const double start =
      d.damper_start > 1 ? 0.1
                         : d.damper_start * d.design_blow / usual_ratio * d.damper_x / d.key_front;
  c.push_back(point_on_line("key at damper", key_rear, {d.damper_x, 0}, 0, damper,
                            {0, start + a.damper_wire}, {0, -1}, contact_law(2, 5e-4, 4, 0.8)));
}

}  // namespace

Result<Description> assemble(const Dimensions& d, const Adjustments& a) {
  auto l = lay_out(d, a);
  if (!l) return tl::unexpected(l.error());
  Description out;
  // Moves as light as a fingertip's flesh in slow presses; a struck or pressing finger's mass is
  // set by the stroke (strokes.hpp).
  out.bodies.push_back(
      {.name = "finger", .joint = JointKind::slide, .at = {-d.key_front, 0}, .mass = 0.05});
  add_key(d, *l, out);
  add_action(d, *l, out);
  add_contacts(d, a, *l, out);

  const auto pin = [&](const char* name, int body, int other, double friction) {
    // Slip speed: a pin's friction is full above a hundredth of a radian a second; a little viscous
    // part (common practice of such models, no source).
    out.couplings.push_back({.name = name,
                             .a = body,
                             .b = other,
                             .viscous = 1e-3 * friction,
                             .friction = friction,
                             .slip = 0.01});
  };
  pin("key pin", key_rear, ground, d.key_friction);
  pin("wippen pin", wippen, ground, d.wippen_friction);
  pin("jack pin", jack, wippen, d.jack_friction);
  pin("lever pin", lever, wippen, d.lever_friction);
  pin("hammer pin", shank, ground, d.hammer_friction);
  out.couplings.push_back({.name = "key wood",
                           .a = key_front,
                           .b = key_rear,
                           .stiffness = d.key_bending,
                           .viscous = 0.02 * std::sqrt(d.key_bending * 1e-3)});
  out.couplings.push_back({.name = "shank wood",
                           .a = head,
                           .b = shank,
                           .stiffness = d.shank_bending,
                           .viscous = d.shank_loss});
  // The repetition spring raises the lever's front: clockwise, hence the signs.
  out.couplings.push_back({.name = "repetition spring",
                           .a = lever,
                           .b = wippen,
                           .stiffness = d.lever_spring_rate,
                           .rest = -d.lever_spring * (1 + a.spring) / d.lever_spring_rate});
  out.couplings.push_back({.name = "jack spring",
                           .a = jack,
                           .b = wippen,
                           .stiffness = d.jack_spring_rate,
                           .rest = -d.jack_spring / d.jack_spring_rate});
  out.couplings.push_back({.name = "damper guide",
                           .a = damper,
                           .viscous = 0.1,
                           .friction = d.damper_friction,
                           .slip = 1e-3});

  out.stops.push_back({.name = "lever at its button",
                       .a = lever,
                       .b = wippen,
                       .limit = -a.lever_button / d.lever_stop_arm,
                       .arm = d.lever_stop_arm,
                       .law = contact_law(d.lever_stop_force, d.lever_stop_depth, 3, 0.8)});
  out.stops.push_back({.name = "jack at its button",
                       .a = jack,
                       .b = wippen,
                       .limit = a.jack_button / d.jack_stop_arm,
                       .arm = d.jack_stop_arm,
                       .law = contact_law(d.jack_stop_force, d.jack_stop_depth, 3, 0.8)});
  out.stops.push_back(
      {.name = "key on balance rail", .a = lift, .law = contact_law(50, 1e-4, 3, 0.5)});
  out.stops.push_back(
      {.name = "damper on string", .a = damper, .law = contact_law(1, 3e-4, 4, 0.8)});

  out.probes.push_back({"key front", key_front, {-d.key_front, 0}});
  out.probes.push_back({"crown", head, from(l->hinge, l->crown)});
  out.probes.push_back({"knuckle", shank, from(l->hammer_pin, l->knuckle)});
  if (auto ok = mechanism::check(out); !ok) return tl::unexpected(ok.error());
  return out;
}

}  // namespace batten::action

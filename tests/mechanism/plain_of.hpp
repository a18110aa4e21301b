// A description in plain numbers.
#pragma once

#include "core/mechanism/mechanism.hpp"
#include "tests/mechanism/plain_mechanism.hpp"

namespace batten::tests {

inline PlainMechanism plain_of(const mechanism::Description& d) {
  using namespace mechanism;
  const auto point = [](Point p) { return PlainPoint{p.x, p.y}; };
  const auto law = [](const ContactLaw& l) {
    return PlainLaw{l.stiffness, 0.5 * l.half_powers, l.damping, l.friction, l.slip_speed};
  };
  PlainMechanism plain;
  plain.gravity = point(d.gravity);
  for (const Body& b : d.bodies)
    plain.bodies.push_back({b.parent, b.joint == JointKind::slide, point(b.at), point(b.direction),
                            b.mass, point(b.centre), b.inertia});
  for (const Contact& c : d.contacts) {
    PlainContact p{};
    p.round_body = c.round_body;
    p.solid_body = c.solid_body;
    p.arc = c.round == RoundKind::arc;
    p.round_centre = point(c.arc.centre);
    p.radius = c.arc.radius;
    p.from = c.arc.from;
    p.to = c.arc.to;
    p.solid = c.solid == SolidKind::line   ? PlainContact::line
              : c.solid == SolidKind::disc ? PlainContact::disc
                                           : PlainContact::box;
    p.point = point(c.line.point);
    p.normal = point(c.line.normal);
    p.centre = point(c.solid == SolidKind::disc ? c.disc.centre : c.box.centre);
    p.disc_radius = c.disc.radius;
    p.half_width = c.box.half_width;
    p.half_height = c.box.half_height;
    p.corner = c.box.corner;
    p.angle = c.box.angle;
    p.law = law(c.law);
    plain.contacts.push_back(p);
  }
  for (const Coupling& c : d.couplings)
    plain.couplings.push_back({c.a, c.b, c.stiffness, c.rest, c.viscous, c.friction, c.slip});
  for (const Stop& s : d.stops)
    plain.stops.push_back({s.a, s.b, s.limit, s.arm, s.side, law(s.law)});
  for (const Tie& t : d.ties)
    plain.ties.push_back({t.a, t.b, point(t.on_a), point(t.on_b), t.stiffness, t.viscous});
  return plain;
}

}  // namespace batten::tests

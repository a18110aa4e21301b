#include "core/mechanism/mechanism.hpp"

#include <cassert>
#include <cmath>
#include <cstddef>

namespace batten::mechanism {

namespace {

constexpr double pi = 3.14159265358979323846;

bool finite(Point p) { return std::isfinite(p.x) && std::isfinite(p.y); }
bool unit(Point p) { return std::abs(std::hypot(p.x, p.y) - 1) < 1e-9; }

Result<void> wrong(const std::string& kind, const std::string& name, const std::string& what) {
  return problem("The " + kind + " \"" + name + "\" " + what + ".",
                 "Correct the mechanism's description.");
}

bool good(const ContactLaw& law) {
  return std::isfinite(law.stiffness) && law.stiffness > 0 && law.half_powers >= 2 &&
         law.half_powers <= 8 && std::isfinite(law.damping) && law.damping >= 0 &&
         std::isfinite(law.friction) && law.friction >= 0 && law.slip_speed > 0;
}

int chain_length(const Description& d, int body) {
  int length = 0;
  for (; body != ground; body = d.bodies[static_cast<std::size_t>(body)].parent) ++length;
  return length;
}

template <class Item>
int index_of(const std::vector<Item>& items, std::string_view name) {
  for (std::size_t i = 0; i < items.size(); ++i)
    if (items[i].name == name) return static_cast<int>(i);
  return -1;
}

Result<void> check_body(const Description& d, int index) {
  const Body& b = d.bodies[static_cast<std::size_t>(index)];
  if (b.parent < ground || b.parent >= index)
    return wrong("body", b.name, "hangs on a body that does not come before it");
  if (b.joint == JointKind::slide) {
    if (b.parent != ground &&
        d.bodies[static_cast<std::size_t>(b.parent)].joint != JointKind::slide)
      return wrong("slide", b.name, "is carried by a body that turns");
    if (!unit(b.direction))
      return wrong("slide", b.name, "has a direction that is not of length 1");
  }
  if (!(std::isfinite(b.mass) && b.mass >= 0 && std::isfinite(b.inertia) && b.inertia >= 0))
    return wrong("body", b.name, "has a mass or inertia that is negative or not a number");
  if (!finite(b.at) || !finite(b.centre))
    return wrong("body", b.name, "has a place that is not a number");
  if (chain_length(d, index) > max_chain)
    return wrong("body", b.name, "hangs on more than " + std::to_string(max_chain - 1) + " others");
  return {};
}

Result<void> check_contact(const Description& d, const Contact& c) {
  const int count = static_cast<int>(d.bodies.size());
  if (c.round_body < ground || c.round_body >= count || c.solid_body < ground ||
      c.solid_body >= count)
    return wrong("contact", c.name, "names a body that is not there");
  if (c.round_body == c.solid_body) return wrong("contact", c.name, "is between a body and itself");
  if (!good(c.law)) return wrong("contact", c.name, "has an impossible law");
  if (!finite(c.arc.centre) || !(c.arc.radius >= 0) || !std::isfinite(c.arc.radius))
    return wrong("contact", c.name, "has an impossible disc");
  if (c.round == RoundKind::arc) {
    if (c.solid != SolidKind::line)
      return wrong("contact", c.name, "is between an arc and something other than a line");
    if (!(c.arc.radius > 0 && c.arc.from < c.arc.to && c.arc.to < c.arc.from + 2 * pi))
      return wrong("contact", c.name, "has an impossible arc");
    if (c.round_body == ground)
      return wrong("contact", c.name, "has an arc on the ground; turn the partners round");
  }
  if (c.solid == SolidKind::line && !(finite(c.line.point) && unit(c.line.normal)))
    return wrong("contact", c.name, "has a line whose normal is not of length 1");
  if (c.solid == SolidKind::disc && !(finite(c.disc.centre) && c.disc.radius >= 0))
    return wrong("contact", c.name, "has an impossible second disc");
  if (c.solid == SolidKind::box &&
      !(finite(c.box.centre) && c.box.corner > 0 && c.box.half_width > c.box.corner &&
        c.box.half_height > c.box.corner && std::isfinite(c.box.angle)))
    return wrong("contact", c.name, "has an impossible box");
  return {};
}

}  // namespace

ContactLaw contact_law(double force, double depth, int half_powers, double damping,
                       double friction) {
  assert(force > 0 && depth > 0 && half_powers >= 2 && half_powers <= 8);
  ContactLaw law;
  law.stiffness = force / std::pow(depth, 0.5 * half_powers);
  law.half_powers = half_powers;
  law.damping = damping;
  law.friction = friction;
  return law;
}

Result<void> check(const Description& d) {
  const int count = static_cast<int>(d.bodies.size());
  if (count == 0) return problem("The mechanism has no bodies.", "Give it at least one.");
  if (count > max_coordinates)
    return problem("The mechanism has " + std::to_string(count) + " bodies; at most " +
                       std::to_string(max_coordinates) + " can be calculated.",
                   "Leave bodies out or join some.");
  for (int i = 0; i < count; ++i)
    if (auto ok = check_body(d, i); !ok) return ok;
  for (const Contact& c : d.contacts)
    if (auto ok = check_contact(d, c); !ok) return ok;
  for (const Coupling& c : d.couplings)
    if (c.a < 0 || c.a >= count || c.b < ground || c.b >= count || c.a == c.b || !(c.slip > 0) ||
        !std::isfinite(c.stiffness) || !std::isfinite(c.rest) || !(c.viscous >= 0) ||
        !(c.friction >= 0))
      return wrong("coupling", c.name, "has an impossible partner or number");
  for (const Stop& s : d.stops)
    if (s.a < 0 || s.a >= count || s.b < ground || s.b >= count || s.a == s.b || !good(s.law) ||
        !std::isfinite(s.limit) || !(s.arm > 0) || std::abs(std::abs(s.side) - 1) > 1e-12)
      return wrong("stop", s.name, "has an impossible partner or number");
  for (const Tie& t : d.ties)
    if (t.a < ground || t.a >= count || t.b < ground || t.b >= count || t.a == t.b ||
        !(t.stiffness >= 0) || !(t.viscous >= 0) || !finite(t.on_a) || !finite(t.on_b))
      return wrong("tie", t.name, "has an impossible partner or number");
  for (const Probe& p : d.probes)
    if (p.body < ground || p.body >= count || !finite(p.at))
      return wrong("probe", p.name, "is on a body that is not there");
  return {};
}

int body_named(const Description& d, std::string_view name) { return index_of(d.bodies, name); }
int contact_named(const Description& d, std::string_view name) {
  return index_of(d.contacts, name);
}
int stop_named(const Description& d, std::string_view name) { return index_of(d.stops, name); }
int probe_named(const Description& d, std::string_view name) { return index_of(d.probes, name); }

}  // namespace batten::mechanism

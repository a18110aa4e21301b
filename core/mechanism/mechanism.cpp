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

bool positive(double a) { return std::isfinite(a) && a > 0; }
bool not_negative(double a) { return std::isfinite(a) && a >= 0; }

bool good(const ContactLaw& law) {
  return positive(law.stiffness) && law.half_powers >= 2 && law.half_powers <= 8 &&
         not_negative(law.damping) && not_negative(law.friction) && positive(law.slip_speed);
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

// `b` may be the ground; coordinates that turn do not mix with those that slide.
bool pair_of_a_kind(const Description& d, int a, int b) {
  const int count = static_cast<int>(d.bodies.size());
  if (a < 0 || a >= count || b < ground || b >= count || a == b) return false;
  return b == ground ||
         d.bodies[static_cast<std::size_t>(a)].joint == d.bodies[static_cast<std::size_t>(b)].joint;
}

bool carries(const Description& d, int carrier, int body) {
  for (; body != ground; body = d.bodies[static_cast<std::size_t>(body)].parent)
    if (body == carrier) return true;
  return false;
}
double carried_mass(const Description& d, int body) {
  double mass = 0;
  for (std::size_t i = 0; i < d.bodies.size(); ++i)
    if (carries(d, body, static_cast<int>(i))) mass += d.bodies[i].mass;
  return mass;
}
// Of what turns with the body: its own and, as points at their pins, what it carries.
double inertia_about_pin(const Description& d, int body) {
  const Body& own = d.bodies[static_cast<std::size_t>(body)];
  double inertia =
      own.inertia + own.mass * (own.centre.x * own.centre.x + own.centre.y * own.centre.y);
  for (std::size_t i = 0; i < d.bodies.size(); ++i) {
    const Body& b = d.bodies[i];
    if (b.parent == body)
      inertia += carried_mass(d, static_cast<int>(i)) * (b.at.x * b.at.x + b.at.y * b.at.y);
  }
  return inertia;
}

// First of all bodies, so that chains can be walked and what they carry can be added up.
Result<void> check_numbers(const Description& d, int index) {
  const Body& b = d.bodies[static_cast<std::size_t>(index)];
  if (b.parent < ground || b.parent >= index)
    return wrong("body", b.name, "hangs on a body that does not come before it");
  if (!not_negative(b.mass) || !not_negative(b.inertia))
    return wrong("body", b.name, "has a mass or inertia that is negative or not a number");
  if (!finite(b.at) || !finite(b.centre))
    return wrong("body", b.name, "has a place that is not a number");
  return {};
}

Result<void> check_body(const Description& d, int index) {
  const Body& b = d.bodies[static_cast<std::size_t>(index)];
  if (b.joint == JointKind::slide) {
    if (b.parent != ground &&
        d.bodies[static_cast<std::size_t>(b.parent)].joint != JointKind::slide)
      return wrong("slide", b.name, "is carried by a body that turns");
    if (!unit(b.direction))
      return wrong("slide", b.name, "has a direction that is not of length 1");
  }
  if (b.joint == JointKind::pin && !(inertia_about_pin(d, index) > 0))
    return wrong("body", b.name, "turns without any inertia");
  if (b.joint == JointKind::slide && !(carried_mass(d, index) > 0))
    return wrong("slide", b.name, "moves without any mass");
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
  if (!finite(c.arc.centre) || !not_negative(c.arc.radius))
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
  if (c.solid == SolidKind::disc && !(finite(c.disc.centre) && not_negative(c.disc.radius)))
    return wrong("contact", c.name, "has an impossible second disc");
  if (c.solid == SolidKind::box &&
      !(finite(c.box.centre) && c.box.corner > 0 && c.box.half_width > c.box.corner &&
        c.box.half_height > c.box.corner && std::isfinite(c.box.half_width) &&
        std::isfinite(c.box.half_height) && std::isfinite(c.box.angle)))
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
    if (auto ok = check_numbers(d, i); !ok) return ok;
  for (int i = 0; i < count; ++i)
    if (auto ok = check_body(d, i); !ok) return ok;
  if (!finite(d.gravity))
    return problem("The gravity is not a number.", "Correct the mechanism's description.");
  if (d.contacts.size() > max_contacts)
    return problem("The mechanism has " + std::to_string(d.contacts.size()) +
                       " contacts; at most " + std::to_string(max_contacts) + " can be calculated.",
                   "Leave contacts out or join some.");
  for (const Contact& c : d.contacts)
    if (auto ok = check_contact(d, c); !ok) return ok;
  for (const Coupling& c : d.couplings) {
    if (!pair_of_a_kind(d, c.a, c.b))
      return wrong("coupling", c.name, "is not between two coordinates of a kind");
    if (!std::isfinite(c.stiffness) || !std::isfinite(c.rest) || !not_negative(c.viscous) ||
        !not_negative(c.friction) || !positive(c.slip))
      return wrong("coupling", c.name, "has an impossible number");
  }
  for (const Stop& s : d.stops) {
    if (!pair_of_a_kind(d, s.a, s.b))
      return wrong("stop", s.name, "is not between two coordinates of a kind");
    if (!good(s.law)) return wrong("stop", s.name, "has an impossible law");
    if (!std::isfinite(s.limit) || !positive(s.arm) || std::abs(s.side) != 1)
      return wrong("stop", s.name, "has an impossible number");
  }
  for (const Tie& t : d.ties) {
    if (t.a < ground || t.a >= count || t.b < ground || t.b >= count)
      return wrong("tie", t.name, "names a body that is not there");
    if (t.a == t.b) return wrong("tie", t.name, "is between a body and itself");
    if (!not_negative(t.stiffness) || !not_negative(t.viscous) || !finite(t.on_a) ||
        !finite(t.on_b))
      return wrong("tie", t.name, "has an impossible number");
  }
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

#include "core/mechanism/model.hpp"

#include <cassert>
#include <cmath>
#include <cstddef>

namespace batten::mechanism {

namespace {

using Numbers = Chain<double>;

void append(Numbers& chain, int coordinate, bool slide, double x, double y) {
  assert(chain.count < max_chain);
  const int k = chain.count++;
  chain.coordinate[k] = coordinate;
  chain.slide[k] = slide;
  chain.x[k] = x;
  chain.y[k] = y;
}

// The chain to a point of `body` (ground: the point itself).
Numbers chain_to(const Description& d, int body, Point at) {
  Numbers chain;
  if (body == ground) {
    chain.base_x = at.x;
    chain.base_y = at.y;
    return chain;
  }
  std::vector<int> line;
  for (int b = body; b != ground; b = d.bodies[static_cast<std::size_t>(b)].parent)
    line.insert(line.begin(), b);
  for (std::size_t k = 0; k < line.size(); ++k) {
    const Body& b = d.bodies[static_cast<std::size_t>(line[k])];
    const bool last = k + 1 == line.size();
    const Point next = last ? at : d.bodies[static_cast<std::size_t>(line[k + 1])].at;
    if (k == 0) {
      chain.base_x += b.at.x;
      chain.base_y += b.at.y;
    }
    if (b.joint == JointKind::slide) {
      append(chain, line[k], true, b.direction.x, b.direction.y);
      chain.base_x += next.x;
      chain.base_y += next.y;
    } else {
      append(chain, line[k], false, next.x, next.y);
    }
  }
  return chain;
}

LawNumbers<double> numbers(const ContactLaw& law) {
  return {law.half_powers, law.stiffness, law.damping, law.friction, law.slip_speed};
}

int turning_coordinate(const Description& d, int body) {
  if (body == ground) return -1;
  return d.bodies[static_cast<std::size_t>(body)].joint == JointKind::pin ? body : -1;
}

ContactNumbers<double> numbers(const Description& d, const Contact& c) {
  ContactNumbers<double> n;
  n.round_body = c.round_body;
  n.solid_body = c.solid_body;
  n.round_angle = turning_coordinate(d, c.round_body);
  n.frame_angle = turning_coordinate(d, c.solid_body);
  n.round_kind = c.round;
  n.solid_kind = c.solid;
  n.round = chain_to(d, c.round_body, c.arc.centre);
  n.frame = chain_to(d, c.solid_body, Point{});
  n.radius = c.arc.radius;
  const double middle = (c.arc.from + c.arc.to) / 2;
  n.middle_x = std::cos(middle);
  n.middle_y = std::sin(middle);
  n.cos_half = std::cos((c.arc.to - c.arc.from) / 2);
  const double ends[2] = {c.arc.from, c.arc.to};
  for (int k = 0; k < 2; ++k) {
    n.end_x[k] = c.arc.centre.x + c.arc.radius * std::cos(ends[k]);
    n.end_y[k] = c.arc.centre.y + c.arc.radius * std::sin(ends[k]);
  }
  for (double& value : n.solid) value = 0;
  switch (c.solid) {
    case SolidKind::line:
      n.solid[0] = c.line.point.x;
      n.solid[1] = c.line.point.y;
      n.solid[2] = c.line.normal.x;
      n.solid[3] = c.line.normal.y;
      break;
    case SolidKind::disc:
      n.solid[0] = c.disc.centre.x;
      n.solid[1] = c.disc.centre.y;
      n.solid[2] = c.disc.radius;
      break;
    case SolidKind::box:
      n.solid[0] = c.box.centre.x;
      n.solid[1] = c.box.centre.y;
      n.solid[2] = std::cos(c.box.angle);
      n.solid[3] = std::sin(c.box.angle);
      n.solid[4] = c.box.half_width - c.box.corner;
      n.solid[5] = c.box.half_height - c.box.corner;
      n.solid[6] = c.box.corner;
      break;
  }
  n.law = numbers(c.law);

  const auto place_in = [](const Numbers& chain, int coordinate) {
    for (int k = 0; k < chain.count; ++k)
      if (chain.coordinate[k] == coordinate) return k;
    return -1;
  };
  const auto take = [&](int coordinate) {
    for (int k = 0; k < n.local_count; ++k)
      if (n.local[k] == coordinate) return;
    const int k = n.local_count++;
    n.local[k] = coordinate;
    n.in_round[k] = place_in(n.round, coordinate);
    n.in_frame[k] = place_in(n.frame, coordinate);
  };
  for (int k = 0; k < n.round.count; ++k) take(n.round.coordinate[k]);
  for (int k = 0; k < n.frame.count; ++k) take(n.frame.coordinate[k]);
  return n;
}

void add_mass(std::vector<MassNumbers<double>>& masses, int i, int j, double along, double across) {
  // The entry for (j, i) is the one for (i, j) with the angle's sign turned.
  if (i > j) return;
  for (auto& m : masses)
    if (m.i == i && m.j == j) {
      m.along += along;
      m.across += across;
      return;
    }
  masses.push_back({i, j, along, across});
}

}  // namespace

Model<double> make_model(const Description& d) {
  Model<double> model;
  model.count = static_cast<int>(d.bodies.size());
  model.gravity_x = d.gravity.x;
  model.gravity_y = d.gravity.y;
  for (std::size_t i = 0; i < d.bodies.size(); ++i) {
    const Body& b = d.bodies[i];
    model.slide[i] = b.joint == JointKind::slide;
    model.slide_x[i] = b.direction.x;
    model.slide_y[i] = b.direction.y;
    model.moment_x[i] = model.moment_y[i] = 0;
  }
  for (std::size_t b = 0; b < d.bodies.size(); ++b) {
    const Body& body = d.bodies[b];
    const int self = static_cast<int>(b);
    // A slide's chain ends with its direction; the point in it does not matter.
    const Numbers chain = chain_to(d, self, body.centre);
    for (int p = 0; p < chain.count; ++p) {
      const int i = chain.coordinate[p];
      if (chain.slide[p]) {
        model.moment_x[i] += body.mass;
      } else {
        model.moment_x[i] += body.mass * chain.x[p];
        model.moment_y[i] += body.mass * chain.y[p];
      }
      for (int r = 0; r < chain.count; ++r) {
        const int j = chain.coordinate[r];
        double ax = chain.x[p], ay = chain.y[p], bx = chain.x[r], by = chain.y[r];
        // d/dq of a pin's segment is its quarter turn; a slide's its direction, at angle zero.
        if (!chain.slide[p]) {
          const double t = ax;
          ax = -ay;
          ay = t;
        }
        if (!chain.slide[r]) {
          const double t = bx;
          bx = -by;
          by = t;
        }
        // (R(qi) a) . (R(qj) b) = a.b cos(qj - qi) + a.(quarter turn of b) sin(qj - qi)
        add_mass(model.masses, i, j, body.mass * (ax * bx + ay * by),
                 body.mass * (ay * bx - ax * by));
      }
    }
    if (body.joint == JointKind::pin) add_mass(model.masses, self, self, body.inertia, 0);
  }
  for (const Contact& c : d.contacts) model.contacts.push_back(numbers(d, c));
  for (const Coupling& c : d.couplings)
    model.couplings.push_back({c.a, c.b, c.stiffness, c.rest, c.viscous, c.friction, c.slip});
  for (const Stop& s : d.stops)
    model.stops.push_back({s.a, s.b, s.limit, s.side * s.arm, numbers(s.law)});
  for (const Tie& t : d.ties)
    model.ties.push_back(
        {chain_to(d, t.a, t.on_a), chain_to(d, t.b, t.on_b), t.stiffness, t.viscous});
  for (const Probe& p : d.probes) model.probes.push_back({chain_to(d, p.body, p.at)});
  return model;
}

}  // namespace batten::mechanism

#include "core/mechanism/model.hpp"

#include <algorithm>
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
  return {law.half_powers, law.friction > 0, law.stiffness,
          law.damping,     law.friction,     law.slip_speed};
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
    n.end_x[k] = c.arc.radius * std::cos(ends[k]);
    n.end_y[k] = c.arc.radius * std::sin(ends[k]);
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
    n.turns[k] = turning_coordinate(d, coordinate) == coordinate;
    if (coordinate == n.frame_angle) n.turning = k;
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

// Which entries of the matrices are used, and the order of elimination with what it fills in.
void find_pattern(Model<double>& model) {
  bool used[max_coordinates][max_coordinates] = {};
  const auto couple = [&](int i, int j) { used[i][j] = used[j][i] = true; };
  const auto couple_all = [&](const int* list, int count) {
    for (int i = 0; i < count; ++i)
      for (int j = 0; j < count; ++j) couple(list[i], list[j]);
  };
  for (int i = 0; i < model.count; ++i) couple(i, i);
  for (const auto& m : model.masses) couple(m.i, m.j);
  for (const auto& c : model.couplings) couple(c.a, c.b == ground ? c.a : c.b);
  for (const auto& s : model.stops) couple(s.a, s.b == ground ? s.a : s.b);
  for (const auto& c : model.contacts) couple_all(c.local, c.local_count);
  for (const auto& t : model.ties) {
    int list[2 * max_chain];
    int count = 0;
    for (int k = 0; k < t.a.count; ++k) list[count++] = t.a.coordinate[k];
    for (int k = 0; k < t.b.count; ++k) list[count++] = t.b.coordinate[k];
    couple_all(list, count);
  }
  const auto add = [](Entries& to, int i, int j) {
    to.list[to.count++] = {static_cast<std::uint8_t>(i), static_cast<std::uint8_t>(j)};
  };
  for (int i = 0; i < model.count; ++i)
    for (int j = 0; j < model.count; ++j)
      if (used[i][j]) add(model.entries, i, j);
  for (int k = std::min(model.count, max_coordinates) - 1; k >= 0; --k) {
    int count = 0;
    for (int i = 0; i < k; ++i)
      if (used[k][i]) model.elimination.earlier[k][count++] = static_cast<std::uint8_t>(i);
    model.elimination.count[k] = static_cast<std::uint8_t>(count);
    for (int i = 0; i < k; ++i)
      for (int j = 0; j < k; ++j)
        if (used[k][i] && used[k][j] && !used[i][j]) {
          used[i][j] = true;
          add(model.fill, i, j);
        }
  }
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
    model.couplings.push_back(
        {c.a, c.b, c.friction > 0, c.stiffness, c.rest, c.viscous, c.friction, c.slip});
  for (const Stop& s : d.stops)
    model.stops.push_back({s.a, s.b, s.limit, s.side * s.arm, numbers(s.law)});
  for (const Tie& t : d.ties)
    model.ties.push_back(
        {chain_to(d, t.a, t.on_a), chain_to(d, t.b, t.on_b), t.stiffness, t.viscous});
  for (const Probe& p : d.probes) model.probes.push_back({chain_to(d, p.body, p.at)});
  find_pattern(model);
  return model;
}

bool alike(const Model<double>& a, const Model<double>& b) {
  const auto same_entries = [](const Entries& p, const Entries& q) {
    return std::equal(p.begin(), p.end(), q.begin(), q.end(),
                      [](Entry x, Entry y) { return x.row == y.row && x.column == y.column; });
  };
  const auto same_chain = [](const Numbers& p, const Numbers& q) {
    return p.count == q.count && std::equal(p.coordinate, p.coordinate + p.count, q.coordinate) &&
           std::equal(p.slide, p.slide + p.count, q.slide);
  };
  const auto same_contact = [&](const ContactNumbers<double>& p, const ContactNumbers<double>& q) {
    return p.round_body == q.round_body && p.solid_body == q.solid_body &&
           p.round_kind == q.round_kind && p.solid_kind == q.solid_kind &&
           p.law.half_powers == q.law.half_powers && same_chain(p.round, q.round) &&
           same_chain(p.frame, q.frame);
  };
  const auto same_coupling = [](const CouplingNumbers<double>& p,
                                const CouplingNumbers<double>& q) {
    return p.a == q.a && p.b == q.b;
  };
  const auto same_stop = [](const StopNumbers<double>& p, const StopNumbers<double>& q) {
    return p.a == q.a && p.b == q.b && p.law.half_powers == q.law.half_powers;
  };
  const auto same_tie = [&](const TieNumbers<double>& p, const TieNumbers<double>& q) {
    return same_chain(p.a, q.a) && same_chain(p.b, q.b);
  };
  const auto same_probe = [&](const ProbeNumbers<double>& p, const ProbeNumbers<double>& q) {
    return same_chain(p.chain, q.chain);
  };
  const auto same_mass = [](const MassNumbers<double>& p, const MassNumbers<double>& q) {
    return p.i == q.i && p.j == q.j;
  };
  const auto all = [](const auto& p, const auto& q, const auto& same) {
    return std::equal(p.begin(), p.end(), q.begin(), q.end(), same);
  };
  return a.count == b.count && std::equal(a.slide, a.slide + a.count, b.slide) &&
         same_entries(a.entries, b.entries) && all(a.masses, b.masses, same_mass) &&
         all(a.contacts, b.contacts, same_contact) &&
         all(a.couplings, b.couplings, same_coupling) && all(a.stops, b.stops, same_stop) &&
         all(a.ties, b.ties, same_tie) && all(a.probes, b.probes, same_probe);
}

}  // namespace batten::mechanism

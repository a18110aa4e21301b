#include "core/mechanism/energy.hpp"

#include <cmath>
#include <cstddef>

namespace batten::mechanism {

namespace {

// Stored by a contact pressed to `depth`: stiffness d^(p+1) / (p+1).
double stored(const LawNumbers<double>& law, double depth) {
  return law.stiffness * detail::half_power(depth, law.half_powers) * depth /
         (0.5 * law.half_powers + 1);
}

}  // namespace

Energy calc_energy(const Model<double>& model, const Motion<double>& at,
                   const EvaluateOptions& options) {
  Forces<double> forces;
  prepare(model, forces);
  evaluate(model, at, options, forces);
  Turned<double> turned;
  calc_turned(model, at.q, turned);
  Energy e;
  for (int i = 0; i < model.count; ++i) {
    for (int j = 0; j < model.count; ++j) e.kinetic += 0.5 * at.v[i] * forces.mass[i][j] * at.v[j];
    const double mx = model.moment_x[i], my = model.moment_y[i];
    if (model.slide[i]) {
      e.gravity -=
          mx * at.q[i] * (model.gravity_x * model.slide_x[i] + model.gravity_y * model.slide_y[i]);
    } else {
      const double rx = turned.cosine[i] * mx - turned.sine[i] * my - mx;
      const double ry = turned.sine[i] * mx + turned.cosine[i] * my - my;
      e.gravity -= model.gravity_x * rx + model.gravity_y * ry;
    }
  }
  for (const auto& c : model.couplings) {
    const double stretch = at.q[c.a] - (c.b == ground ? 0 : at.q[c.b]) - c.rest;
    e.springs += 0.5 * c.stiffness * stretch * stretch;
  }
  for (const auto& t : model.ties) {
    Placed<double> a, b;
    detail::place(t.a, at.q, turned, a);
    detail::place(t.b, at.q, turned, b);
    e.springs += 0.5 * t.stiffness * ((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
  }
  for (std::size_t k = 0; k < model.contacts.size(); ++k)
    if (((options.contacts_off >> k) & 1U) == 0 && forces.contacts[k].gap < 0)
      e.contacts += stored(model.contacts[k].law, -forces.contacts[k].gap);
  for (std::size_t k = 0; k < model.stops.size(); ++k)
    if (forces.stops[k].gap < 0) e.contacts += stored(model.stops[k].law, -forces.stops[k].gap);
  return e;
}

Loss calc_loss(const Model<double>& model, const Motion<double>& at,
               const EvaluateOptions& options) {
  Forces<double> forces;
  prepare(model, forces);
  evaluate(model, at, options, forces);
  Loss loss;
  const auto damping = [&](const LawNumbers<double>& law, const Touch<double>& touch) {
    if (!(touch.gap < 0)) return;
    const double elastic = law.stiffness * detail::half_power(-touch.gap, law.half_powers);
    loss.contact_damping += (touch.force - elastic) * touch.closing;
  };
  for (std::size_t k = 0; k < model.contacts.size(); ++k) {
    if (((options.contacts_off >> k) & 1U) != 0) continue;
    const auto& law = model.contacts[k].law;
    const auto& touch = forces.contacts[k];
    damping(law, touch);
    loss.contact_friction += law.friction * touch.force * touch.slip * touch.slip /
                             std::hypot(touch.slip, law.slip_speed);
  }
  for (std::size_t k = 0; k < model.stops.size(); ++k) damping(model.stops[k].law, forces.stops[k]);
  for (const auto& c : model.couplings) {
    const double w = at.v[c.a] - (c.b == ground ? 0 : at.v[c.b]);
    loss.pins += c.viscous * w * w + c.friction * w * w / std::hypot(w, c.slip);
  }
  for (const auto& t : model.ties) {
    Turned<double> turned;
    calc_turned(model, at.q, turned);
    Placed<double> a, b;
    detail::place(t.a, at.q, turned, a);
    detail::place(t.b, at.q, turned, b);
    double vx = 0, vy = 0;
    for (int k = 0; k < t.a.count; ++k) {
      vx += a.dx[k] * at.v[t.a.coordinate[k]];
      vy += a.dy[k] * at.v[t.a.coordinate[k]];
    }
    for (int k = 0; k < t.b.count; ++k) {
      vx -= b.dx[k] * at.v[t.b.coordinate[k]];
      vy -= b.dy[k] * at.v[t.b.coordinate[k]];
    }
    loss.pins += t.viscous * (vx * vx + vy * vy);
  }
  return loss;
}

}  // namespace batten::mechanism

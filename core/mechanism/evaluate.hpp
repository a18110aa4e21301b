// Forces of a mechanism at a state, with their exact derivatives.
#pragma once

#include "core/mechanism/evaluate_contact.hpp"
#include "core/mechanism/evaluate_parts.hpp"
#include "core/mechanism/model.hpp"

namespace batten::mechanism {

template <class Real>
void prepare(const Model<Real>& model, Forces<Real>& out) {
  out.contacts.resize(model.contacts.size());
  out.stops.resize(model.stops.size());
  for (int i = 0; i < max_coordinates; ++i)
    for (int j = 0; j < max_coordinates; ++j)
      out.mass[i][j] = out.stiffness[i][j] = out.damping[i][j] = Real(0);
}

template <class Real>
BATTEN_LANE_INLINE void calc_turned(const Model<Real>& model, const Real* q, Turned<Real>& turned) {
  for (int i = 0; i < model.count; ++i) {
    turned.cosine[i] = Real(1);
    turned.sine[i] = Real(0);
    if (!model.slide[i]) sin_cos(q[i], turned.sine[i], turned.cosine[i]);
  }
}

namespace detail {
template <class Real>
BATTEN_LANE_INLINE void turn_chain(const Chain<Real>& chain, const Real* q, Turned<Real>& turned) {
  for (int k = 0; k < chain.count; ++k) {
    const int i = chain.coordinate[k];
    if (!chain.slide[k]) sin_cos(q[i], turned.sine[i], turned.cosine[i]);
  }
}
}  // namespace detail

// Everything at a state. `out` must have been prepared.
template <class Real>
void evaluate(const Model<Real>& model, const Motion<Real>& at, const EvaluateOptions& options,
              Forces<Real>& out) {
  const int n = model.count;
  Turned<Real>& turned = out.turned;
  calc_turned(model, at.q, turned);
  for (int i = 0; i < n; ++i) out.force[i] = Real(0);
  // The mass matrix is not added to, only set, always in the same places.
  for (const Entry e : model.entries)
    out.stiffness[e.row][e.column] = out.damping[e.row][e.column] = Real(0);

  for (const auto& m : model.masses) {
    const int i = m.i, j = m.j;
    if (i == j) {
      out.mass[i][i] = m.along;
      continue;
    }
    const Real c = turned.cosine[i] * turned.cosine[j] + turned.sine[i] * turned.sine[j];
    const Real s = turned.cosine[i] * turned.sine[j] - turned.sine[i] * turned.cosine[j];
    out.mass[i][j] = out.mass[j][i] = m.along * c + m.across * s;
    const Real slope = m.across * c - m.along * s;  // d mass / d (qj - qi)
    const Real second = -(m.along * c + m.across * s);
    // Centrifugal: row i feels column j's speed and the other way round; a slide causes none.
    if (!model.slide[j]) {
      const Real vv = at.v[j] * at.v[j];
      out.force[i] -= slope * vv;
      out.stiffness[i][j] -= second * vv;
      if (!model.slide[i]) out.stiffness[i][i] += second * vv;
      out.damping[i][j] -= Real(2) * slope * at.v[j];
    }
    if (!model.slide[i]) {
      const Real vv = at.v[i] * at.v[i];
      out.force[j] += slope * vv;
      out.stiffness[j][i] -= second * vv;
      if (!model.slide[j]) out.stiffness[j][j] += second * vv;
      out.damping[j][i] += Real(2) * slope * at.v[i];
    }
  }

  for (int i = 0; i < n; ++i) {
    const Real mx = model.moment_x[i], my = model.moment_y[i];
    if (model.slide[i]) {
      out.force[i] +=
          mx * (model.gravity_x * model.slide_x[i] + model.gravity_y * model.slide_y[i]);
    } else {
      const Real rx = turned.cosine[i] * mx - turned.sine[i] * my;
      const Real ry = turned.sine[i] * mx + turned.cosine[i] * my;
      out.force[i] += model.gravity_y * rx - model.gravity_x * ry;
      out.stiffness[i][i] -= model.gravity_y * ry + model.gravity_x * rx;
    }
  }

  for (const auto& c : model.couplings) {
    const bool free = c.b == ground;
    const Real w = free ? at.v[c.a] : at.v[c.a] - at.v[c.b];
    const Real stretch = (free ? at.q[c.a] : at.q[c.a] - at.q[c.b]) - c.rest;
    Real f = -(c.stiffness * stretch + c.viscous * w);
    Real d = c.viscous;
    if (c.rubs) {
      const Real s = Real(1) / sqrt(w * w + c.slip * c.slip);
      const Real es = c.slip * s;
      f -= c.friction * w * s;
      d += c.friction * (options.soft_friction_slope ? s : s * es * es);
    }
    out.force[c.a] += f;
    out.stiffness[c.a][c.a] -= c.stiffness;
    out.damping[c.a][c.a] -= d;
    if (!free) {
      out.force[c.b] -= f;
      out.stiffness[c.b][c.b] -= c.stiffness;
      out.damping[c.b][c.b] -= d;
      out.stiffness[c.a][c.b] += c.stiffness;
      out.stiffness[c.b][c.a] += c.stiffness;
      out.damping[c.a][c.b] += d;
      out.damping[c.b][c.a] += d;
    }
  }

  for (std::size_t k = 0; k < model.stops.size(); ++k) {
    const auto& stop = model.stops[k];
    auto& touch = out.stops[k];
    const bool free = stop.b == ground;
    touch.gap = stop.slope * ((free ? at.q[stop.a] : at.q[stop.a] - at.q[stop.b]) - stop.limit);
    touch.closing = -stop.slope * (free ? at.v[stop.a] : at.v[stop.a] - at.v[stop.b]);
    touch.force = touch.slip = Real(0);
    if (!any(less(touch.gap, Real(0)))) continue;
    const auto p = detail::press(stop.law, max_of(-touch.gap, Real(0)), touch.closing);
    touch.force = p.force;
    const Real f = p.force * stop.slope;
    const Real k2 = p.by_depth * stop.slope * stop.slope;
    const Real d2 = p.by_closing * stop.slope * stop.slope;
    out.force[stop.a] += f;
    out.stiffness[stop.a][stop.a] -= k2;
    out.damping[stop.a][stop.a] -= d2;
    if (!free) {
      out.force[stop.b] -= f;
      out.stiffness[stop.b][stop.b] -= k2;
      out.damping[stop.b][stop.b] -= d2;
      out.stiffness[stop.a][stop.b] += k2;
      out.stiffness[stop.b][stop.a] += k2;
      out.damping[stop.a][stop.b] += d2;
      out.damping[stop.b][stop.a] += d2;
    }
  }

  for (const auto& tie : model.ties) detail::add_tie(tie, at, turned, out);
  for (std::size_t k = 0; k < model.contacts.size(); ++k)
    detail::add_contact(model.contacts[k], at, turned, ((options.contacts_off >> k) & 1U) == 0,
                        options, out, out.contacts[k]);
}

// Where a probe is, its speed.
template <class Real>
struct Watched {
  Real x, y, speed_x, speed_y;
};
// `turned` of the same state, as Forces keeps it.
template <class Real>
Watched<Real> watch(const Model<Real>& model, int probe, const Motion<Real>& at,
                    const Turned<Real>& turned) {
  const auto& chain = model.probes[static_cast<std::size_t>(probe)].chain;
  Placed<Real> placed;
  detail::place(chain, at.q, turned, placed);
  Watched<Real> w{placed.x, placed.y, Real(0), Real(0)};
  for (int k = 0; k < chain.count; ++k) {
    w.speed_x += placed.dx[k] * at.v[chain.coordinate[k]];
    w.speed_y += placed.dy[k] * at.v[chain.coordinate[k]];
  }
  return w;
}
template <class Real>
Watched<Real> watch(const Model<Real>& model, int probe, const Motion<Real>& at) {
  Turned<Real> turned;
  detail::turn_chain(model.probes[static_cast<std::size_t>(probe)].chain, at.q, turned);
  return watch(model, probe, at, turned);
}

// Adds a force (world axes, N) at a probe to the generalised forces.
template <class Real>
void push(const Model<Real>& model, int probe, const Motion<Real>& at, const Turned<Real>& turned,
          Real fx, Real fy, Real* force) {
  const auto& chain = model.probes[static_cast<std::size_t>(probe)].chain;
  Placed<Real> placed;
  detail::place(chain, at.q, turned, placed);
  for (int k = 0; k < chain.count; ++k)
    force[chain.coordinate[k]] += fx * placed.dx[k] + fy * placed.dy[k];
}
template <class Real>
void push(const Model<Real>& model, int probe, const Motion<Real>& at, Real fx, Real fy,
          Real* force) {
  Turned<Real> turned;
  detail::turn_chain(model.probes[static_cast<std::size_t>(probe)].chain, at.q, turned);
  push(model, probe, at, turned, fx, fy, force);
}

}  // namespace batten::mechanism

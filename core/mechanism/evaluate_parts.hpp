// The parts that evaluating a mechanism is made of; see evaluate.hpp.
#pragma once

#include "core/mechanism/model.hpp"

#include <cstdint>

namespace batten::mechanism {

template <class Real>
struct Motion {
  Real q[max_coordinates], v[max_coordinates];
};

struct EvaluateOptions {
  std::uint64_t contacts_off = 0;  // bit i: contact i gives no force
  // Slope of friction against slip as friction / slip instead of the true one, for advance(): slip
  // then dies away at any step without changing sign, where the true slope throws it from side to
  // side. Costs no accuracy. See docs/theory/mechanism.md.
  bool soft_friction_slope = false;
  // m, > 0. Of a contact farther apart than this only the gap is calculated; its closing and slip
  // are given as 0. Saves a third of the time where most contacts are far apart.
  double reach = 1e9;
};

// What a contact or stop does at the state.
template <class Real>
struct Touch {
  Real gap, closing;  // m (negative: pressed), m/s (positive: nearing)
  Real force, slip;   // N >= 0, m/s
};

// Cosines and sines of the coordinates; 1 and 0 for slides.
template <class Real>
struct Turned {
  Real cosine[max_coordinates], sine[max_coordinates];
};

// `prepare` before the first use. Of the matrices only the model's `entries` are written; what else
// is added must lie among them.
template <class Real>
struct Forces {
  Real force[max_coordinates];  // generalised, all but inertia
  Real mass[max_coordinates][max_coordinates];
  Real stiffness[max_coordinates][max_coordinates];  // d force_i / d q_j
  Real damping[max_coordinates][max_coordinates];    // d force_i / d v_j
  std::vector<Touch<Real>> contacts, stops;
  Turned<Real> turned;
};

// Where a chain's point is and how it moves with each of its coordinates. The second derivative is
// the quarter turn of (dx, dy) for a pin, zero for a slide; the mixed ones are zero.
template <class Real>
struct Placed {
  Real x, y;
  Real dx[max_chain], dy[max_chain];
};

namespace detail {

// (last_x, last_y) stands for the chain's last entry.
template <class Real>
BATTEN_LANE_INLINE void place(const Chain<Real>& chain, Real last_x, Real last_y, const Real* q,
                              const Turned<Real>& turned, Placed<Real>& out) {
  out.x = chain.base_x;
  out.y = chain.base_y;
  for (int k = 0; k < chain.count; ++k) {
    const int i = chain.coordinate[k];
    const bool last = k + 1 == chain.count;
    const Real x = last ? last_x : chain.x[k], y = last ? last_y : chain.y[k];
    if (chain.slide[k]) {
      out.dx[k] = x;
      out.dy[k] = y;
      out.x += x * q[i];
      out.y += y * q[i];
    } else {
      const Real rx = turned.cosine[i] * x - turned.sine[i] * y;
      const Real ry = turned.sine[i] * x + turned.cosine[i] * y;
      out.x += rx;
      out.y += ry;
      out.dx[k] = -ry;
      out.dy[k] = rx;
    }
  }
}
template <class Real>
BATTEN_LANE_INLINE void place(const Chain<Real>& chain, const Real* q, const Turned<Real>& turned,
                              Placed<Real>& out) {
  const int last = chain.count > 0 ? chain.count - 1 : 0;
  place(chain, chain.x[last], chain.y[last], q, turned, out);
}

template <class Real>
BATTEN_LANE_INLINE Real half_power(Real d, int half_powers) {
  Real r(1);
  for (int i = 0; i < half_powers / 2; ++i) r *= d;
  if (half_powers % 2 != 0) r *= sqrt(d);
  return r;
}

// Pressed by `depth` (> 0 or zero), closing at `closing`: force and its slopes.
template <class Real>
struct Pressed {
  Real force, by_depth, by_closing;
};
template <class Real>
BATTEN_LANE_INLINE Pressed<Real> press(const LawNumbers<Real>& law, Real depth, Real closing) {
  const Real lower = half_power(depth, law.half_powers - 2);
  const Real elastic_slope = law.stiffness * lower * Real(0.5 * law.half_powers);
  const Real elastic = law.stiffness * lower * depth;
  const Real bracket = Real(1) + law.damping * closing;
  const Real clamped = min_of(max_of(bracket, Real(0)), Real(3));
  const auto inside = less(Real(0), bracket) & less(bracket, Real(3));
  // A lane that does not touch has no slope either, whatever the exponent.
  return {elastic * clamped, select(less(Real(0), depth), elastic_slope * clamped, Real(0)),
          select(inside, elastic * law.damping, Real(0))};
}

// Distance of a point from a solid, outward normal, and the curvature term of its Hessian:
// H = curvature (I - n n').
template <class Real>
struct Distance {
  Real value, nx, ny, curvature;
};
template <class Real>
BATTEN_LANE_INLINE Distance<Real> distance(const ContactNumbers<Real>& c, Real px, Real py) {
  if (c.solid_kind == SolidKind::line) {
    const Real nx = c.solid[2], ny = c.solid[3];
    return {nx * (px - c.solid[0]) + ny * (py - c.solid[1]), nx, ny, Real(0)};
  }
  const Real ox = px - c.solid[0], oy = py - c.solid[1];
  if (c.solid_kind == SolidKind::disc) {
    const Real length = max_of(sqrt(ox * ox + oy * oy), Real(1e-12));
    const Real inverse = Real(1) / length;
    return {length - c.solid[2], ox * inverse, oy * inverse, inverse};
  }
  const Real ca = c.solid[2], sa = c.solid[3], corner = c.solid[6];
  const Real zx = ca * ox + sa * oy, zy = ca * oy - sa * ox;
  const Real qx = abs_of(zx) - c.solid[4], qy = abs_of(zy) - c.solid[5];
  const Real sx = select(less(zx, Real(0)), Real(-1), Real(1));
  const Real sy = select(less(zy, Real(0)), Real(-1), Real(1));
  const auto at_corner = less(Real(0), qx) & less(Real(0), qy);
  const auto wide = less(qy, qx);
  Real gx = select(wide, sx, Real(0)), gy = select(wide, Real(0), sy);
  Real value = max_of(qx, qy), curvature(0);
  if (any(at_corner)) {
    const Real length = max_of(sqrt(qx * qx + qy * qy), Real(1e-12));
    const Real inverse = Real(1) / length;
    gx = select(at_corner, sx * qx * inverse, gx);
    gy = select(at_corner, sy * qy * inverse, gy);
    value = select(at_corner, length, value);
    curvature = select(at_corner, inverse, curvature);
  }
  return {value - corner, ca * gx - sa * gy, sa * gx + ca * gy, curvature};
}

}  // namespace detail
}  // namespace batten::mechanism

// One contact's forces and their derivatives; part of evaluate.hpp.
//
// Everything follows from the gap's normal n and tangent t, and from how each coordinate moves the
// round partner's centre along them, seen from the solid: N_i and T_i. docs/theory/mechanism.md
// derives the terms.
#pragma once

#include "core/mechanism/evaluate_parts.hpp"

namespace batten::mechanism::detail {

template <class Real>
struct Axis {
  Real cosine, sine;
};
template <class Real>
BATTEN_LANE_INLINE Axis<Real> axis_of(int coordinate, const Turned<Real>& turned) {
  if (coordinate < 0) return {Real(1), Real(0)};
  return {turned.cosine[coordinate], turned.sine[coordinate]};
}

// The point of an arc's body that stands for the arc, from the arc's centre: the centre itself
// where the rim faces the line, else the nearer end, which is a point.
template <class Real>
struct ArcPoint {
  Real x, y, radius;
};
template <class Real>
BATTEN_LANE_INLINE ArcPoint<Real> arc_point(const ContactNumbers<Real>& c, const Axis<Real>& frame,
                                            const Turned<Real>& turned) {
  const Real zero(0);
  // The line's inward normal as the arc's body sees it.
  const Real wx = -(frame.cosine * c.solid[2] - frame.sine * c.solid[3]);
  const Real wy = -(frame.sine * c.solid[2] + frame.cosine * c.solid[3]);
  const Axis<Real> own = axis_of(c.round_angle, turned);
  const Real ix = own.cosine * wx + own.sine * wy, iy = own.cosine * wy - own.sine * wx;
  const auto beyond = less(ix * c.middle_x + iy * c.middle_y, c.cos_half);
  const auto first = less(c.middle_x * iy - c.middle_y * ix, zero);
  return {select(beyond, select(first, c.end_x[0], c.end_x[1]), zero),
          select(beyond, select(first, c.end_y[0], c.end_y[1]), zero),
          select(beyond, zero, c.radius)};
}

// How the local coordinates move the contact.
template <class Real>
struct Levers {
  Real normal[2 * max_chain];   // N_i: of the gap
  Real across[2 * max_chain];   // T_i: of the centre, along the tangent
  Real tangent[2 * max_chain];  // of the slip: T_i and the turning of the two surfaces
};

template <class Real>
void press_contact(const ContactNumbers<Real>& c, const Motion<Real>& at, const Levers<Real>& lever,
                   Real curvature, const EvaluateOptions& options, Forces<Real>& out,
                   Touch<Real>& touch) {
  const Real zero(0);
  const Pressed<Real> pressed = press(c.law, max_of(-touch.gap, zero), touch.closing);
  touch.force = pressed.force;
  Real grip = zero, grip_slope = zero;  // friction = -grip * force; d grip / d slip
  if (c.law.rubs) {
    const Real eps = c.law.slip_speed;
    const Real s = Real(1) / sqrt(touch.slip * touch.slip + eps * eps);
    const Real es = eps * s;
    grip = c.law.friction * touch.slip * s;
    grip_slope = c.law.friction * (options.soft_friction_slope ? s : s * es * es);
  }
  const Real along = pressed.force;
  const Real across = -grip * pressed.force;
  const int count = c.local_count;

  // Of d2p/dqi dqj only the diagonal and the row and column of the solid's own angle are not zero:
  // the quarter turn of dp, forwards where a pin turns, backwards where the solid does.
  const auto bend = [&](int i, int j, Real& along_normal, Real& along_tangent) {
    if (i == c.turning || j == c.turning) {
      const int o = i == c.turning ? j : i;
      along_normal += lever.across[o];
      along_tangent -= lever.normal[o];
    } else if (i == j && c.turns[i]) {
      along_normal -= lever.across[i];
      along_tangent += lever.normal[i];
    }
  };

  for (int j = 0; j < count; ++j) {
    const int column = c.local[j];
    const Real turn = curvature * lever.across[j];
    Real curve[2 * max_chain], twist[2 * max_chain];
    Real closing_by = zero, slip_by = zero;
    for (int i = 0; i < count; ++i) {
      curve[i] = turn * lever.across[i];
      twist[i] = -(turn * lever.normal[i]);
      bend(i, j, curve[i], twist[i]);
      closing_by -= curve[i] * at.v[c.local[i]];
      slip_by += twist[i] * at.v[c.local[i]];
    }
    const Real steep = grip_slope * pressed.force;
    const Real force_by_q = pressed.by_closing * closing_by - pressed.by_depth * lever.normal[j];
    const Real force_by_v = -(pressed.by_closing * lever.normal[j]);
    const Real across_by_q = -(grip * force_by_q) - steep * slip_by;
    const Real across_by_v = -(grip * force_by_v) - steep * lever.tangent[j];
    for (int i = 0; i < count; ++i) {
      const int row = c.local[i];
      out.stiffness[row][column] += force_by_q * lever.normal[i] + along * curve[i] +
                                    across_by_q * lever.tangent[i] + across * twist[i];
      out.damping[row][column] += force_by_v * lever.normal[i] + across_by_v * lever.tangent[i];
    }
    out.force[column] += along * lever.normal[j] + across * lever.tangent[j];
  }
}

template <class Real>
void add_contact(const ContactNumbers<Real>& c, const Motion<Real>& at, const Turned<Real>& turned,
                 bool on, const EvaluateOptions& options, Forces<Real>& out, Touch<Real>& touch) {
  const Real zero(0);
  touch.closing = touch.slip = touch.force = zero;
  const Axis<Real> axis = axis_of(c.frame_angle, turned);
  Placed<Real> frame, round;
  place(c.frame, at.q, turned, frame);
  Real radius = c.radius;
  if (c.round_kind == RoundKind::arc) {
    const ArcPoint<Real> point = arc_point(c, axis, turned);
    radius = point.radius;
    const int last = c.round.count - 1;
    if (c.round_angle >= 0) {
      place(c.round, c.round.x[last] + point.x, c.round.y[last] + point.y, at.q, turned, round);
    } else {
      place(c.round, at.q, turned, round);
      round.x += point.x;
      round.y += point.y;
    }
  } else {
    place(c.round, at.q, turned, round);
  }
  const Real wx = round.x - frame.x, wy = round.y - frame.y;
  const Real px = axis.cosine * wx + axis.sine * wy, py = axis.cosine * wy - axis.sine * wx;
  const Distance<Real> d = distance(c, px, py);
  touch.gap = d.value - radius;
  const auto near = less(touch.gap, Real(options.reach));
  if (!any(near)) return;

  const Real nx = axis.cosine * d.nx - axis.sine * d.ny, ny = axis.sine * d.nx + axis.cosine * d.ny;
  Levers<Real> lever;
  Real opening = zero, slip = zero;
  for (int k = 0; k < c.local_count; ++k) {
    Real ux = zero, uy = zero;
    if (const int i = c.in_round[k]; i >= 0) {
      ux = round.dx[i];
      uy = round.dy[i];
    }
    if (const int i = c.in_frame[k]; i >= 0) {
      ux -= frame.dx[i];
      uy -= frame.dy[i];
    }
    const int coordinate = c.local[k];
    Real normal = nx * ux + ny * uy, across = nx * uy - ny * ux;
    if (k == c.turning) {
      normal += nx * wy - ny * wx;
      across -= nx * wx + ny * wy;
    }
    Real tangent = across;
    if (k == c.turning) tangent += radius;
    if (coordinate == c.round_angle) tangent -= radius;
    lever.normal[k] = normal;
    lever.across[k] = across;
    lever.tangent[k] = tangent;
    opening += normal * at.v[coordinate];
    slip += tangent * at.v[coordinate];
  }
  touch.closing = select(near, -opening, zero);
  touch.slip = select(near, slip, zero);
  if (!on || !any(less(touch.gap, zero))) return;
  press_contact(c, at, lever, d.curvature, options, out, touch);
}

template <class Real>
void add_tie(const TieNumbers<Real>& tie, const Motion<Real>& at, const Turned<Real>& turned,
             Forces<Real>& out) {
  Placed<Real> a, b;
  place(tie.a, at.q, turned, a);
  place(tie.b, at.q, turned, b);
  const Real zero(0);
  Real gx[2 * max_chain], gy[2 * max_chain];
  int local[2 * max_chain];
  bool turns[2 * max_chain];
  Real vx = zero, vy = zero;
  int count = 0;
  const auto take = [&](const Chain<Real>& chain, const Placed<Real>& p, double sign) {
    for (int k = 0; k < chain.count; ++k, ++count) {
      local[count] = chain.coordinate[k];
      turns[count] = !chain.slide[k];
      gx[count] = Real(sign) * p.dx[k];
      gy[count] = Real(sign) * p.dy[k];
      vx += gx[count] * at.v[local[count]];
      vy += gy[count] * at.v[local[count]];
    }
  };
  take(tie.a, a, 1);
  take(tie.b, b, -1);
  const Real fx = -(tie.stiffness * (a.x - b.x) + tie.viscous * vx);
  const Real fy = -(tie.stiffness * (a.y - b.y) + tie.viscous * vy);
  for (int i = 0; i < count; ++i) {
    out.force[local[i]] += fx * gx[i] + fy * gy[i];
    if (turns[i]) out.stiffness[local[i]][local[i]] += fy * gx[i] - fx * gy[i];
    for (int j = 0; j < count; ++j) {
      const Real gg = gx[i] * gx[j] + gy[i] * gy[j];
      out.damping[local[i]][local[j]] -= tie.viscous * gg;
      Real by_q = tie.stiffness * gg;
      // d(gj)/dqj is gj's quarter turn.
      if (turns[j]) by_q += tie.viscous * (gy[i] * gx[j] - gx[i] * gy[j]) * at.v[local[j]];
      out.stiffness[local[i]][local[j]] -= by_q;
    }
  }
}

}  // namespace batten::mechanism::detail

// One contact's forces and their derivatives; part of evaluate.hpp.
//
// With p the round partner's centre in the solid's frame, the gap is distance(p) - radius; forces
// act along its gradient n and across it, and everything follows from dp/dq and d2p/dq2.
// docs/theory/mechanism.md derives the terms.
#pragma once

#include "core/mechanism/evaluate_parts.hpp"

namespace batten::mechanism::detail {

template <class Real>
void add_contact(const ContactNumbers<Real>& c, const Motion<Real>& at, const Turned<Real>& turned,
                 bool on, const EvaluateOptions& options, Forces<Real>& out, Touch<Real>& touch) {
  const Real zero(0);
  Placed<Real> frame;
  place(c.frame, at.q, turned, frame);
  const Real cb = c.frame_angle < 0 ? Real(1) : turned.cosine[c.frame_angle];
  const Real sb = c.frame_angle < 0 ? zero : turned.sine[c.frame_angle];

  Chain<Real> chain = c.round;
  Real radius = c.radius;
  if (c.round_kind == RoundKind::arc) {
    // The line's inward normal seen from the arc's body, to tell whether the rim or an end is
    // nearest.
    const Real wx = -(cb * c.solid[2] - sb * c.solid[3]), wy = -(sb * c.solid[2] + cb * c.solid[3]);
    const Real ca = c.round_angle < 0 ? Real(1) : turned.cosine[c.round_angle];
    const Real sa = c.round_angle < 0 ? zero : turned.sine[c.round_angle];
    const Real ix = ca * wx + sa * wy, iy = ca * wy - sa * wx;
    const auto beyond = less(ix * c.middle_x + iy * c.middle_y, c.cos_half);
    const auto first = less(c.middle_x * iy - c.middle_y * ix, zero);
    const int last = chain.count - 1;
    chain.x[last] = select(beyond, select(first, c.end_x[0], c.end_x[1]), chain.x[last]);
    chain.y[last] = select(beyond, select(first, c.end_y[0], c.end_y[1]), chain.y[last]);
    radius = select(beyond, zero, radius);
  }
  Placed<Real> round;
  place(chain, at.q, turned, round);

  const Real wx = round.x - frame.x, wy = round.y - frame.y;
  const Real px = cb * wx + sb * wy, py = cb * wy - sb * wx;
  const Distance<Real> d = distance(c, px, py);
  touch.gap = d.value - radius;
  const Real tx = -d.ny, ty = d.nx;

  // First derivatives of p by the local coordinates, in the solid's frame.
  Real dpx[2 * max_chain], dpy[2 * max_chain], hx[2 * max_chain], hy[2 * max_chain];
  Real normal[2 * max_chain], tangent[2 * max_chain];
  Real closing = zero, slip = zero;
  int turning = -1;
  for (int k = 0; k < c.local_count; ++k) {
    Real ux = zero, uy = zero, vx = zero, vy = zero;
    if (const int i = c.in_round[k]; i >= 0) {
      ux = round.dx[i];
      uy = round.dy[i];
      vx = round.ddx[i];
      vy = round.ddy[i];
    }
    if (const int i = c.in_frame[k]; i >= 0) {
      ux -= frame.dx[i];
      uy -= frame.dy[i];
      vx -= frame.ddx[i];
      vy -= frame.ddy[i];
    }
    dpx[k] = cb * ux + sb * uy;
    dpy[k] = cb * uy - sb * ux;
    hx[k] = cb * vx + sb * vy;
    hy[k] = cb * vy - sb * vx;
  }
  for (int k = 0; k < c.local_count; ++k) {
    const int i = c.local[k];
    Real roll = zero;
    if (i == c.frame_angle) {
      turning = k;
      hx[k] += Real(2) * dpy[k] - px;
      hy[k] -= Real(2) * dpx[k] + py;
      dpx[k] += py;
      dpy[k] -= px;
      roll = radius;
    }
    if (i == c.round_angle) roll -= radius;
    normal[k] = d.nx * dpx[k] + d.ny * dpy[k];
    tangent[k] = tx * dpx[k] + ty * dpy[k] + roll;
    closing -= normal[k] * at.v[i];
    slip += tangent[k] * at.v[i];
  }
  touch.closing = closing;
  touch.slip = slip;
  touch.force = zero;
  if (!on || !any(less(touch.gap, zero))) return;

  const Pressed<Real> pressed = press(c.law, max_of(-touch.gap, zero), closing);
  touch.force = pressed.force;
  const Real eps = c.law.slip_speed;
  const Real s = Real(1) / sqrt(slip * slip + eps * eps);
  const Real grip = c.law.friction * slip * s;  // friction = -grip * force
  const Real es = eps * s;
  const Real grip_slope =
      c.law.friction * (options.soft_friction_slope ? es * sqrt(es) / eps : es * es * s);

  // Second derivatives: of the gap (curve) and of the slip's coefficients (twist), times speeds.
  Real curve[2 * max_chain][2 * max_chain];
  Real closing_by[2 * max_chain], slip_by[2 * max_chain];
  for (int j = 0; j < c.local_count; ++j) closing_by[j] = slip_by[j] = zero;
  Real twist[2 * max_chain][2 * max_chain];
  for (int i = 0; i < c.local_count; ++i)
    for (int j = 0; j < c.local_count; ++j) {
      // d2p/dqi dqj is nonzero on the diagonal and where one of the two turns the solid's frame.
      Real mx = zero, my = zero;
      bool mixed = false;
      if (i == j) {
        mx = hx[i];
        my = hy[i];
        mixed = true;
      } else if (i == turning || j == turning) {
        const int o = i == turning ? j : i;
        mx = dpy[o];
        my = -dpx[o];
        mixed = true;
      }
      Real g =
          d.curvature * tangential(tx, ty, dpx[i], dpy[i]) * tangential(tx, ty, dpx[j], dpy[j]);
      // d(tangent)/dqj . dpi: the tangent turns by -curvature (t.dpj) against the normal.
      Real w = -d.curvature * tangential(tx, ty, dpx[j], dpy[j]) * normal[i];
      if (mixed) {
        g += d.nx * mx + d.ny * my;
        w += tx * mx + ty * my;
      }
      curve[i][j] = g;
      twist[i][j] = w;
      const Real vi = at.v[c.local[i]];
      closing_by[j] -= g * vi;
      slip_by[j] += w * vi;
    }

  const Real along = pressed.force;
  const Real across = -grip * pressed.force;
  for (int i = 0; i < c.local_count; ++i) {
    const int row = c.local[i];
    out.force[row] += along * normal[i] + across * tangent[i];
  }
  for (int j = 0; j < c.local_count; ++j) {
    const int column = c.local[j];
    const Real force_by_q = -pressed.by_depth * normal[j] + pressed.by_closing * closing_by[j];
    const Real force_by_v = -pressed.by_closing * normal[j];
    const Real across_by_q = -grip * force_by_q - grip_slope * pressed.force * slip_by[j];
    const Real across_by_v = -grip * force_by_v - grip_slope * pressed.force * tangent[j];
    for (int i = 0; i < c.local_count; ++i) {
      const int row = c.local[i];
      out.stiffness[row][column] += force_by_q * normal[i] + along * curve[i][j] +
                                    across_by_q * tangent[i] + across * twist[i][j];
      out.damping[row][column] += force_by_v * normal[i] + across_by_v * tangent[i];
    }
  }
}

template <class Real>
void add_tie(const TieNumbers<Real>& tie, const Motion<Real>& at, const Turned<Real>& turned,
             Forces<Real>& out) {
  Placed<Real> a, b;
  place(tie.a, at.q, turned, a);
  place(tie.b, at.q, turned, b);
  const Real zero(0);
  Real gx[2 * max_chain], gy[2 * max_chain], hx[2 * max_chain], hy[2 * max_chain];
  int local[2 * max_chain];
  Real vx = zero, vy = zero;
  int count = 0;
  const auto take = [&](const Chain<Real>& chain, const Placed<Real>& p, double sign) {
    for (int k = 0; k < chain.count; ++k, ++count) {
      local[count] = chain.coordinate[k];
      gx[count] = Real(sign) * p.dx[k];
      gy[count] = Real(sign) * p.dy[k];
      hx[count] = Real(sign) * p.ddx[k];
      hy[count] = Real(sign) * p.ddy[k];
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
    out.stiffness[local[i]][local[i]] += fx * hx[i] + fy * hy[i];
    for (int j = 0; j < count; ++j) {
      const Real gg = gx[i] * gx[j] + gy[i] * gy[j];
      const Real gh = (gx[i] * hx[j] + gy[i] * hy[j]) * at.v[local[j]];
      out.stiffness[local[i]][local[j]] -= tie.stiffness * gg + tie.viscous * gh;
      out.damping[local[i]][local[j]] -= tie.viscous * gg;
    }
  }
}

}  // namespace batten::mechanism::detail

// One step forward in time, and one step of a slow drive.
#pragma once

#include "core/mechanism/evaluate.hpp"

#include <cassert>

namespace batten::mechanism {

// One over a pivot, a vanishing one held off zero, so that a bad step is finite and can be refused.
template <class Real>
BATTEN_LANE_INLINE Real inverse_pivot(Real pivot) {
  const Real tiny(1e-30);
  return Real(1) / select(less(abs_of(pivot), tiny), tiny, pivot);
}

// Solves a x = b in place (b becomes x; a is lost) without pivoting: the matrices here are a mass
// matrix plus small terms.
template <class Real>
void solve_dense(int n, Real (&a)[max_coordinates][max_coordinates], Real* b) {
  for (int k = 0; k < n; ++k) {
    const Real inverse = inverse_pivot(a[k][k]);
    a[k][k] = inverse;
    for (int i = k + 1; i < n; ++i) {
      const Real factor = a[i][k] * inverse;
      for (int j = k + 1; j < n; ++j) a[i][j] -= factor * a[k][j];
      b[i] -= factor * b[k];
    }
  }
  for (int k = n - 1; k >= 0; --k) {
    Real sum = b[k];
    for (int j = k + 1; j < n; ++j) sum -= a[k][j] * b[j];
    b[k] = sum * a[k][k];
  }
}

// The same where only the model's entries differ from zero: last coordinate first, so that a chain
// is solved from its loose end and fills in nothing. The model's fill must have been set to zero.
template <class Real>
void solve_sparse(const Model<Real>& model, Real (&a)[max_coordinates][max_coordinates], Real* b) {
  assert(model.count > 0);
  const auto& order = model.elimination;
  for (int k = model.count - 1; k >= 0; --k) {
    const Real inverse = inverse_pivot(a[k][k]);
    a[k][k] = inverse;
    for (int r = 0; r < order.count[k]; ++r) {
      const int i = order.earlier[k][r];
      const Real factor = a[i][k] * inverse;
      for (int s = 0; s < order.count[k]; ++s) {
        const int j = order.earlier[k][s];
        a[i][j] -= factor * a[k][j];
      }
      b[i] -= factor * b[k];
    }
  }
  for (int k = 0; k < model.count; ++k) {
    Real sum = b[k];
    for (int r = 0; r < order.count[k]; ++r) {
      const int j = order.earlier[k][r];
      sum -= a[k][j] * b[j];
    }
    b[k] = sum * a[k][k];
  }
}

// A coordinate whose motion is prescribed; -1: none.
template <class Real>
struct Drive {
  int coordinate = -1;
  Real speed{0};  // over the step
};

// Linearly implicit Euler over `h` (lanes may differ; 0 holds a lane still): (M - h D - h^2 K) dv =
// h (Q + extra + h K v), with Q, K, D, M of `forces` at the state. First order, stable at any h.
// `extra`: generalised forces from outside, constant over the step.
template <class Real>
void advance(const Model<Real>& model, const Forces<Real>& forces, const Real* extra, Real h,
             const Drive<Real>& drive, Motion<Real>& motion) {
  const int n = model.count;
  Real a[max_coordinates][max_coordinates];
  Real dv[max_coordinates];
  for (int i = 0; i < n; ++i) dv[i] = forces.force[i] + extra[i];
  for (const Entry e : model.fill) a[e.row][e.column] = Real(0);
  for (const Entry e : model.entries) {
    const int i = e.row, j = e.column;
    const Real hk = h * forces.stiffness[i][j];
    a[i][j] = forces.mass[i][j] - h * (forces.damping[i][j] + hk);
    dv[i] += hk * motion.v[j];
  }
  for (int i = 0; i < n; ++i) dv[i] *= h;
  if (const int d = drive.coordinate; d >= 0) {
    for (int j = 0; j < n; ++j) a[d][j] = Real(d == j ? 1 : 0);
    dv[d] = drive.speed - motion.v[d];
  }
  solve_sparse(model, a, dv);
  const auto still = less(h, Real(1e-300));
  for (int i = 0; i < n; ++i) {
    motion.v[i] = select(still, motion.v[i], motion.v[i] + dv[i]);
    motion.q[i] += h * motion.v[i];
  }
}

// The step that lets no contact near touching close by more than `travel`, within [shortest,
// longest]. Smooth in the state, so that results may be differenced. Contacts farther apart than
// `ahead` do not count.
template <class Real>
Real limited_step(const Forces<Real>& forces, double travel, double shortest, double longest,
                  double ahead) {
  Real fastest(0);
  const auto look = [&](const Touch<Real>& touch) {
    // Fades in over the last stretch so that the step does not jump when a contact comes in reach.
    const Real near = min_of(max_of((Real(ahead) - touch.gap) * Real(1 / ahead), Real(0)), Real(1));
    fastest = max_of(fastest, near * abs_of(touch.closing));
  };
  for (const auto& touch : forces.contacts) look(touch);
  for (const auto& touch : forces.stops) look(touch);
  const Real wanted = Real(travel) / max_of(fastest, Real(1e-12));
  return min_of(max_of(wanted, Real(shortest)), Real(longest));
}

}  // namespace batten::mechanism

// One step forward in time, and one step of a slow drive.
#pragma once

#include "core/mechanism/evaluate.hpp"

namespace batten::mechanism {

// Solves a x = b in place (b becomes x) without pivoting: the matrices here are a mass matrix plus
// small terms. A vanishing pivot is held off zero, so that a bad step is finite and can be refused.
template <class Real>
void solve_dense(int n, Real (&a)[max_coordinates][max_coordinates], Real* b) {
  for (int k = 0; k < n; ++k) {
    const Real pivot = a[k][k];
    const Real tiny(1e-30);
    const Real safe = select(less(abs_of(pivot), tiny), tiny, pivot);
    const Real inverse = Real(1) / safe;
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
  for (int i = 0; i < n; ++i) {
    Real pull = forces.force[i] + extra[i];
    for (int j = 0; j < n; ++j) {
      const Real hk = h * forces.stiffness[i][j];
      a[i][j] = forces.mass[i][j] - h * (forces.damping[i][j] + hk);
      pull += hk * motion.v[j];
    }
    dv[i] = h * pull;
  }
  if (const int d = drive.coordinate; d >= 0) {
    for (int j = 0; j < n; ++j) a[d][j] = Real(d == j ? 1 : 0);
    dv[d] = drive.speed - motion.v[d];
  }
  solve_dense(n, a, dv);
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

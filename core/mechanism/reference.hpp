// The classical fourth-order Runge–Kutta step: exact to compare with where it is slow. Explicit, so
// h must stay below about a quarter of the fastest oscillation's period; forces have a corner where
// a contact begins, which costs order there.
#pragma once

#include "core/mechanism/step.hpp"

namespace batten::mechanism {

// dv/dt at a state; `forces` are scratch and hold what evaluate() gave.
template <class Real>
void calc_acceleration(const Model<Real>& model, const Motion<Real>& at, const Real* extra,
                       const EvaluateOptions& options, Forces<Real>& forces, Real* acceleration) {
  evaluate(model, at, options, forces);
  Real a[max_coordinates][max_coordinates];
  for (int i = 0; i < model.count; ++i) {
    acceleration[i] = forces.force[i] + extra[i];
    for (int j = 0; j < model.count; ++j) a[i][j] = forces.mass[i][j];
  }
  solve_dense(model.count, a, acceleration);
}

// One step of `h` seconds under `extra`, generalised forces constant over the step.
template <class Real>
void advance_runge_kutta(const Model<Real>& model, const Real* extra, Real h,
                         const EvaluateOptions& options, Forces<Real>& forces,
                         Motion<Real>& motion) {
  // Kutta 1901: weights 1/6, 1/3, 1/3, 1/6 at 0, h/2, h/2, h.
  constexpr double ahead[4] = {0, 0.5, 0.5, 1};
  constexpr double weight[4] = {1.0 / 6, 1.0 / 3, 1.0 / 3, 1.0 / 6};
  const Motion<Real> start = motion;
  Motion<Real> at = start;
  Real speed[max_coordinates], acceleration[max_coordinates];
  for (int stage = 0; stage < 4; ++stage) {
    if (stage > 0)
      for (int i = 0; i < model.count; ++i) {
        at.q[i] = start.q[i] + Real(ahead[stage]) * h * speed[i];
        at.v[i] = start.v[i] + Real(ahead[stage]) * h * acceleration[i];
      }
    calc_acceleration(model, at, extra, options, forces, acceleration);
    for (int i = 0; i < model.count; ++i) {
      speed[i] = at.v[i];
      motion.q[i] += Real(weight[stage]) * h * speed[i];
      motion.v[i] += Real(weight[stage]) * h * acceleration[i];
    }
  }
}

}  // namespace batten::mechanism

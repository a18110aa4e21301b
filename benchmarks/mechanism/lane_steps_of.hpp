#pragma once

#include "benchmarks/mechanism/lane_steps.hpp"
#include "core/mechanism/pack.hpp"
#include "core/mechanism/step.hpp"
#include "tests/mechanism/samples.hpp"

namespace batten::benchmarks {

template <class Real>
void step_of(const mechanism::Model<Real>& model, double* arm) {
  using namespace mechanism;
  Motion<Real> motion;
  for (int i = 0; i < model.count; ++i) motion.q[i] = motion.v[i] = Real(0);
  Forces<Real> forces;
  prepare(model, forces);
  EvaluateOptions options;
  options.soft_friction_slope = true;
  options.reach = 2e-3;
  Real extra[max_coordinates];
  for (int k = 0; k < steps; ++k) {
    evaluate(model, motion, options, forces);
    for (int i = 0; i < model.count; ++i) extra[i] = Real(0);
    push(model, 0, motion, forces.turned, Real(0), Real(-tests::train_push), extra);
    advance(model, forces, extra, Real(1e-4), Drive<Real>{}, motion);
  }
  for (int lane = 0; lane < RealTraits<Real>::width; ++lane)
    arm[lane] = RealTraits<Real>::lane(motion.q[5], lane);
}

template <mechanism::Isa isa>
void step_eight(const mechanism::Model<double>* eight, double* arm) {
  mechanism::Model<mechanism::Lanes<isa>> model;
  for (int lane = 0; lane < mechanism::lane_count; ++lane)
    mechanism::put_lane(eight[lane], model, lane);
  step_of(model, arm);
}

}  // namespace batten::benchmarks

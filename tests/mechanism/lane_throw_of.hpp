// The throw, for any kind of number.
#pragma once

#include "core/mechanism/pack.hpp"
#include "core/mechanism/step.hpp"
#include "tests/mechanism/lane_throw.hpp"
#include "tests/mechanism/samples.hpp"

namespace batten::tests {

template <class Real>
void throw_of(const mechanism::Model<Real>& model, const Real& hold, double* out) {
  using namespace mechanism;
  using T = RealTraits<Real>;
  Motion<Real> motion;
  for (int i = 0; i < model.count; ++i) motion.q[i] = motion.v[i] = Real(0);
  Forces<Real> forces;
  prepare(model, forces);
  EvaluateOptions options;
  options.soft_friction_slope = true;
  options.reach = 3e-3;
  Real extra[max_coordinates];
  for (int k = 0; k < throw_steps; ++k) {
    evaluate(model, motion, options, forces);
    for (int i = 0; i < model.count; ++i) extra[i] = Real(0);
    push(model, 0, motion, forces.turned, Real(0), Real(-train_push), extra);
    const Real h = hold * limited_step(forces, 1e-4, 2e-5, 2e-4, 2e-3);
    if (k % 10 == 0) {
      const Watched<Real> head = watch(model, 1, motion);
      for (int lane = 0; lane < T::width; ++lane) {
        for (int i = 0; i < model.count; ++i) {
          *out++ = T::lane(motion.q[i], lane);
          *out++ = T::lane(motion.v[i], lane);
        }
        *out++ = T::lane(head.y, lane);
        *out++ = T::lane(head.speed_y, lane);
        *out++ = T::lane(h, lane);
        for (const auto& touch : forces.contacts) {
          *out++ = T::lane(touch.gap, lane);
          *out++ = T::lane(touch.closing, lane);
          *out++ = T::lane(touch.force, lane);
          *out++ = T::lane(touch.slip, lane);
        }
      }
    }
    advance(model, forces, extra, h, Drive<Real>{}, motion);
  }
}

template <mechanism::Isa isa>
void throw_eight(const mechanism::Model<double>* eight, const double* hold, double* out) {
  using Real = mechanism::Lanes<isa>;
  mechanism::Model<Real> model;
  Real holds(1);
  for (int lane = 0; lane < mechanism::lane_count; ++lane) {
    mechanism::put_lane(eight[lane], model, lane);
    holds.set(lane, hold[lane]);
  }
  throw_of(model, holds, out);
}

}  // namespace batten::tests

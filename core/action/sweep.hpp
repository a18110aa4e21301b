// The slow press: the key driven down and let up so slowly that only springs, weights and friction
// count, as a technician reads let-off and drop. Templated over one note or eight at once.
#pragma once

#include "core/action/assembly.hpp"
#include "core/mechanism/step.hpp"

#include <vector>

namespace batten::action {

// One step of a slow press, for one note. m and N.
struct SweepPoint {
  double depth = 0;                    // of the key's front below its rest before the press
  double below = 0;                    // crown below the string's rest plane
  double force = 0;                    // of the finger
  double jack_gap = 0, lever_gap = 0;  // to the undeformed knuckle; negative pressed
  double toe_force = 0, tip_force = 0, jack_force = 0, lever_force = 0;
  double damper_gap = 0, front_gap = 0, check_gap = 0, string_force = 0;
};

struct SweepOptions {
  // Share of its mass each part keeps. Zero fails where the hammer falls through let-off, full mass
  // makes the drop depend on the step.
  double mass_share = 0.01;
  double speed = 0.005;                    // m/s of the finger
  double coarse = 100e-6;                  // m of finger travel a step where nothing happens
  double fine = 20e-6;                     // m where toe or tip is near its stop
  double bottom_force = 300 * 9.80665e-3;  // N; the press ends there (300 g on the dip block)
  double deepest = 0.016;                  // m, whatever the force
  unsigned long long contacts_off = 0;
};

// Where a press ended.
template <class Real>
struct Pressing {
  mechanism::Motion<Real> motion;
  Real rest_key{0};  // height of the key's front before it
};

namespace detail {

using mechanism::abs_of;
using mechanism::any;
using mechanism::Drive;
using mechanism::evaluate;
using mechanism::EvaluateOptions;
using mechanism::Forces;
using mechanism::less;
using mechanism::max_coordinates;
using mechanism::max_of;
using mechanism::min_of;
using mechanism::Model;
using mechanism::Motion;
using mechanism::RealTraits;
using mechanism::select;
using mechanism::solve_dense;

// One implicit Euler step of length h (per lane) with light masses; Newton with true slopes. Lanes
// that do not converge come back with `ok` false and their motion unchanged.
template <class Real>
typename RealTraits<Real>::Mask creep(const Model<Real>& model, const EvaluateOptions& options,
                                      double mass_share, Real h, const Drive<Real>& drive,
                                      Motion<Real>& motion, Forces<Real>& forces, int most) {
  const int n = model.count;
  Motion<Real> trial = motion;
  trial.v[drive.coordinate] = drive.speed;
  for (int i = 0; i < n; ++i) trial.q[i] = motion.q[i] + h * trial.v[i];
  const Real inverse = Real(1) / h;
  auto done = less(Real(1), Real(0));
  for (int round = 0; round < most; ++round) {
    evaluate(model, trial, options, forces);
    Real a[max_coordinates][max_coordinates], r[max_coordinates];
    for (int i = 0; i < n; ++i) {
      Real sum = forces.force[i];
      for (int j = 0; j < n; ++j) {
        const Real m = Real(mass_share) * inverse * forces.mass[i][j];
        sum -= m * (trial.v[j] - motion.v[j]);
        a[i][j] = m - forces.damping[i][j] - h * forces.stiffness[i][j];
      }
      r[i] = sum;
    }
    for (int j = 0; j < n; ++j) a[drive.coordinate][j] = Real(j == drive.coordinate ? 1 : 0);
    r[drive.coordinate] = drive.speed - trial.v[drive.coordinate];
    solve_dense(n, a, r);
    // No part may jump farther than a felt is thick in one round.
    Real largest(0);
    for (int i = 0; i < n; ++i) largest = max_of(largest, abs_of(r[i] * h));
    const Real scale = min_of(Real(1), Real(4e-3) / max_of(largest, Real(1e-12)));
    for (int i = 0; i < n; ++i) {
      const Real v = trial.v[i] + scale * r[i];
      trial.v[i] = select(done, trial.v[i], v);
      trial.q[i] = motion.q[i] + h * trial.v[i];
    }
    done = done | less(largest, Real(1e-8));
    if (!any(!done)) break;
  }
  for (int i = 0; i < n; ++i) {
    motion.q[i] = select(done, trial.q[i], motion.q[i]);
    motion.v[i] = select(done, trial.v[i], motion.v[i]);
  }
  return done;
}

}  // namespace detail

// Lets the note come to rest by itself, the finger away.
template <class Real>
Pressing<Real> settle(const mechanism::Model<Real>& model) {
  using namespace detail;
  Pressing<Real> p;
  for (int i = 0; i < model.count; ++i) p.motion.q[i] = p.motion.v[i] = Real(0);
  p.motion.q[finger] = Real(1e-3);
  EvaluateOptions options;
  options.soft_friction_slope = true;
  Forces<Real> forces;
  prepare(model, forces);
  const Real none[max_coordinates] = {};
  Drive<Real> drive{finger, Real(0)};
  for (int k = 0; k < 60; ++k) {
    evaluate(model, p.motion, options, forces);
    advance(model, forces, none, Real(k < 20 ? 5e-4 : 5e-3), drive, p.motion);
  }
  p.rest_key = watch(model, key_point, p.motion).y;
  return p;
}

// Drives the finger down (or, `up`, back to 1 mm over the key's rest), writing one row a step into
// trace[lane]. Lanes that have arrived stay where they are. Returns how many lanes failed to
// converge even in the smallest steps (their traces end there).
template <class Real>
int press(const mechanism::Model<Real>& model, Pressing<Real>& p, const SweepOptions& o, bool up,
          std::vector<SweepPoint>* trace) {
  using namespace detail;
  using T = RealTraits<Real>;
  EvaluateOptions options;
  options.contacts_off = o.contacts_off;
  Forces<Real> forces;
  prepare(model, forces);
  const Real string_height = model.contacts[crown_string].solid[1];
  bool finished[mechanism::lane_count] = {};
  int shrink[mechanism::lane_count] = {};
  double travel[mechanism::lane_count];
  for (double& t : travel) t = o.fine;
  int left = T::width, failed = 0;
  for (int step = 0; step < 4000 && left > 0; ++step) {
    Real h(0);
    for (int lane = 0; lane < T::width; ++lane)
      T::set(h, lane, travel[lane] / o.speed / static_cast<double>(1 << shrink[lane]));
    const auto before = p.motion;
    const auto ok = creep(model, options, o.mass_share, h,
                          Drive<Real>{finger, Real(up ? o.speed : -o.speed)}, p.motion, forces, 30);
    const auto key = watch(model, key_point, p.motion);
    const auto crown = watch(model, crown_point, p.motion);
    for (int lane = 0; lane < T::width; ++lane) {
      if (finished[lane]) {
        for (int i = 0; i < model.count; ++i) {
          T::set(p.motion.q[i], lane, T::lane(before.q[i], lane));
          T::set(p.motion.v[i], lane, T::lane(before.v[i], lane));
        }
        continue;
      }
      if (!ok[lane]) {
        if (++shrink[lane] > 10) {
          finished[lane] = true;
          ++failed;
          --left;
        }
        continue;
      }
      if (shrink[lane] > 0) --shrink[lane];
      const auto gap = [&](Touching c) { return T::lane(forces.contacts[c].gap, lane); };
      const auto force = [&](Touching c) { return T::lane(forces.contacts[c].force, lane); };
      SweepPoint row;
      row.depth = T::lane(p.rest_key, lane) - T::lane(key.y, lane);
      row.below = T::lane(string_height, lane) - T::lane(crown.y, lane);
      row.force = force(finger_key);
      row.jack_gap = gap(jack_knuckle);
      row.lever_gap = gap(lever_knuckle);
      row.jack_force = force(jack_knuckle);
      row.lever_force = force(lever_knuckle);
      row.toe_force = force(toe_button);
      row.tip_force = force(tip_drop);
      row.damper_gap = gap(key_damper);
      row.front_gap = gap(front_rail);
      row.check_gap = gap(tail_check);
      row.string_force = force(crown_string);
      trace[lane].push_back(row);
      // Fine steps while the jack is being tripped or comes back, and just before.
      const bool busy = gap(toe_button) < 2e-4 || gap(tip_drop) < 2e-4;
      travel[lane] = busy ? o.fine : o.coarse;
      const bool arrived = up ? T::lane(p.motion.q[finger], lane) > 1e-3
                              : row.force > o.bottom_force || row.depth > o.deepest;
      if (arrived) {
        finished[lane] = true;
        --left;
      }
    }
  }
  return failed + left;
}

}  // namespace batten::action

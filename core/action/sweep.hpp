// The slow press: the key driven down and let up so slowly that only springs, weights and friction
// count, as a technician reads let-off and drop. Templated over one note or eight at once.
#pragma once

#include "core/action/assembly.hpp"
#include "core/mechanism/step.hpp"

#include <cstddef>
#include <vector>

namespace batten::action {

// One step of a slow press, for one note. m and N.
struct SweepPoint {
  double depth = 0;                    // of the key's front below its rest before the press
  double below = 0;                    // crown below the string's rest plane
  double force = 0;                    // of the finger
  double jack_gap = 0, lever_gap = 0;  // to the undeformed knuckle; negative pressed
  double toe_gap = 0, tip_gap = 0;     // toe to button, lever to drop screw
  double toe_force = 0, tip_force = 0, jack_force = 0, lever_force = 0;
  double jack_stop_force = 0, lever_stop_force = 0;
  double damper_gap = 0, front_gap = 0, front_force = 0, check_gap = 0, string_force = 0;
  double shank_gap = 0;
  double q[part_count] = {};  // coordinates, by Part
};

// What a press writes: `count` rows of at most `room`.
struct SweepTrace {
  SweepPoint* rows = nullptr;
  int room = 0, count = 0;
};

// Enough for any press with the steps below, where about a hundred are usual.
inline constexpr int most_sweep_rows = 600;

struct SweepOptions {
  // s. Parts have no inertia but a drag, mass * speed / this time, that bridges the fall at
  // let-off: without anything there is no solution between, and with inertia the fall overshoots
  // the place where the hammer comes to rest, the more the finer the step. At half a second the
  // drag is 0.5 % of the weight at the hammer's 25 mm/s, and the fall takes the key's travel of 2
  // um.
  double drag_time = 0.5;
  double speed = 0.005;                    // m/s of the finger
  double coarse = 400e-6;                  // m of finger travel a step where nothing happens
  double fine = 20e-6;                     // m where the jack is being tripped
  double bottom_force = 300 * 9.80665e-3;  // N on the front punching, where the press ends (300 g)
  double deepest = 0.016;                  // m; ends there whatever the force
  double shallowest = -1;                  // m; letting up ends there; < 0: when the key is free
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
using mechanism::Entry;
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
using mechanism::solve_sparse;

// One implicit Euler step of length h (per lane) without inertia; Newton with true slopes. Lanes
// that do not converge come back with `ok` false and their motion unchanged. `forces` are those of
// the end.
template <class Real>
typename RealTraits<Real>::Mask creep(const Model<Real>& model, const EvaluateOptions& options,
                                      double drag_time, Real h, const Drive<Real>& drive,
                                      Motion<Real>& motion, Forces<Real>& forces, int most) {
  constexpr double close = 1e-6;
  const int n = model.count, d = drive.coordinate;
  Motion<Real> trial = motion;
  trial.v[d] = drive.speed;
  for (int i = 0; i < n; ++i) trial.q[i] = motion.q[i] + h * trial.v[i];
  auto done = less(Real(1), Real(0));
  for (int round = 0; round < most; ++round) {
    evaluate(model, trial, options, forces);
    Real a[max_coordinates][max_coordinates], r[max_coordinates];
    for (int i = 0; i < model.count; ++i) {
      r[i] = forces.force[i];
      a[i][i] = Real(0);
    }
    for (const Entry e : model.fill) a[e.row][e.column] = Real(0);
    for (const Entry e : model.entries) {
      const int i = e.row, j = e.column;
      const Real drag = Real(1 / drag_time) * forces.mass[i][j];
      r[i] -= drag * trial.v[j];
      a[i][j] = drag - forces.damping[i][j] - h * forces.stiffness[i][j];
    }
    for (int j = 0; j < n; ++j) a[d][j] = Real(j == d ? 1 : 0);
    r[d] = drive.speed - trial.v[d];
    solve_sparse(model, a, r);
    // No part may jump farther than a felt is thick in one round.
    Real largest(0);
    for (int i = 0; i < n; ++i) largest = max_of(largest, abs_of(r[i] * h));
    const Real scale = min_of(Real(1), Real(4e-3) / max_of(largest, Real(1e-12)));
    for (int i = 0; i < n; ++i) {
      const Real v = trial.v[i] + scale * r[i];
      trial.v[i] = select(done, trial.v[i], v);
      trial.q[i] = motion.q[i] + h * trial.v[i];
    }
    done = done | less(largest, Real(close));
    if (!any(!done)) break;
  }
  for (int i = 0; i < n; ++i) {
    motion.q[i] = select(done, trial.q[i], motion.q[i]);
    motion.v[i] = select(done, trial.v[i], motion.v[i]);
  }
  evaluate(model, motion, options, forces);
  return done;
}

template <class Real>
SweepPoint point_of(const Model<Real>& model, const Pressing<Real>& p, const Forces<Real>& forces,
                    Real key, Real crown, int lane) {
  using T = RealTraits<Real>;
  const auto touch = [&](Touching c) -> const mechanism::Touch<Real>& {
    return forces.contacts[static_cast<std::size_t>(c)];
  };
  const auto gap = [&](Touching c) { return T::lane(touch(c).gap, lane); };
  const auto force = [&](Touching c) { return T::lane(touch(c).force, lane); };
  SweepPoint row;
  row.depth = T::lane(p.rest_key, lane) - T::lane(key, lane);
  row.below = T::lane(model.contacts[crown_string].solid[1], lane) - T::lane(crown, lane);
  row.force = force(finger_key);
  row.jack_gap = gap(jack_knuckle);
  row.lever_gap = gap(lever_knuckle);
  row.toe_gap = gap(toe_button);
  row.tip_gap = gap(tip_drop);
  row.toe_force = force(toe_button);
  row.tip_force = force(tip_drop);
  row.jack_force = force(jack_knuckle);
  row.lever_force = force(lever_knuckle);
  row.jack_stop_force = T::lane(forces.stops[jack_stop].force, lane);
  row.lever_stop_force = T::lane(forces.stops[lever_stop].force, lane);
  row.damper_gap = gap(key_damper);
  row.front_gap = gap(front_rail);
  row.front_force = force(front_rail);
  row.check_gap = gap(tail_check);
  row.string_force = force(crown_string);
  row.shank_gap = gap(shank_cushion);
  for (int i = 0; i < part_count; ++i) row.q[i] = T::lane(p.motion.q[i], lane);
  return row;
}

// How far the finger may go after a trace's last row. Continuous in the state up to where the
// hammer first rests, so that readings stay smooth in the adjustments: nearly up to the next
// contact, then fine until the hammer has fallen, most so where it turns.
inline double next_travel(const SweepTrace& t, double highest, const SweepOptions& o, bool up) {
  const SweepPoint& row = t.rows[t.count - 1];
  const SweepPoint& last = t.rows[t.count > 1 ? t.count - 2 : 0];
  // Toe, tip, tail and front go at about the finger's speed.
  const auto until = [](double gap, double shortest) {
    return gap > 0 ? shortest + 0.5 * gap : shortest;
  };
  double travel = o.coarse;
  const auto limit = [&](double most) { travel = most < travel ? most : travel; };
  const double way = row.depth > last.depth ? row.depth - last.depth : last.depth - row.depth;
  const double slope = way > 0 ? (last.below - row.below) / way : 1;
  const double rising = slope < 0 ? 0 : slope > 1 ? 1 : slope;
  const bool rested = row.below > highest + 2.5e-4 && row.below < last.below;
  limit(until(row.toe_gap < row.tip_gap ? row.toe_gap : row.tip_gap,
              (rested ? 4 : 1 + 2 * rising) * o.fine));
  if (up) return travel;
  if (((o.contacts_off >> key_damper) & 1U) == 0 && row.q[damper] < t.rows[0].q[damper] + 1e-4)
    limit(until(row.damper_gap, 4 * o.fine));
  limit(until(row.front_gap, 4 * o.fine));
  return travel;
}

}  // namespace detail

// Where the note lies by itself, the finger away: the place it would creep to in the end, which
// is that without friction.
template <class Real>
Pressing<Real> settle(const mechanism::Model<Real>& model) {
  using namespace detail;
  Pressing<Real> p;
  for (int i = 0; i < model.count; ++i) p.motion.q[i] = p.motion.v[i] = Real(0);
  constexpr double away = 0.02;  // farther than any punching lifts the key
  p.motion.q[finger] = Real(away);
  EvaluateOptions options;
  options.soft_friction_slope = true;
  Forces<Real> forces;
  prepare(model, forces);
  const Real none[max_coordinates] = {};
  const Drive<Real> drive{finger, Real(0)};
  for (int k = 0; k < 35; ++k) {
    evaluate(model, p.motion, options, forces);
    advance(model, forces, none, Real(k < 20 ? 5e-4 : 5e-3), drive, p.motion);
    // Parts set far from the design begin pressed into each other: they are let part, not thrown.
    if (k < 20)
      for (int i = 0; i < model.count; ++i) p.motion.v[i] = Real(0);
  }
  options.soft_friction_slope = false;
  for (int i = 0; i < model.count; ++i) p.motion.v[i] = Real(0);
  double h = 0.02;  // s, to 62 s
  for (int k = 0; k < 6; ++k, h *= 5)
    creep(model, options, 0.5, Real(h), drive, p.motion, forces, 30);
  for (int i = 0; i < model.count; ++i) p.motion.v[i] = Real(0);
  p.rest_key = watch(model, key_point, p.motion).y;
  p.motion.q[finger] = p.rest_key + Real(1e-4);
  return p;
}

// Writes the state as it is into every trace that has room.
template <class Real>
void find_first(const mechanism::Model<Real>& model, const Pressing<Real>& p,
                unsigned long long off, SweepTrace* trace) {
  using namespace detail;
  EvaluateOptions options;
  options.contacts_off = off;
  Forces<Real> forces;
  prepare(model, forces);
  evaluate(model, p.motion, options, forces);
  const Real key = watch(model, key_point, p.motion, forces.turned).y;
  const Real crown = watch(model, crown_point, p.motion, forces.turned).y;
  for (int lane = 0; lane < RealTraits<Real>::width; ++lane)
    if (SweepTrace& t = trace[lane]; t.count < t.room)
      t.rows[t.count++] = point_of(model, p, forces, key, crown, lane);
}

// Drives the finger down (or, `up`, back), writing one row a step into trace[lane]; the first is
// the state found. Lanes that have arrived, and those without room from the start, stay where they
// are. Returns the bits of those that failed to converge even in the smallest steps or ran out of
// room (their traces end there).
template <class Real>
unsigned press(const mechanism::Model<Real>& model, Pressing<Real>& p, const SweepOptions& o,
               bool up, SweepTrace* trace) {
  using namespace detail;
  using T = RealTraits<Real>;
  EvaluateOptions options;
  options.contacts_off = o.contacts_off;
  options.reach = 1e-5;  // only what touches matters
  Forces<Real> forces;
  prepare(model, forces);
  bool finished[mechanism::lane_count] = {};
  int shrink[mechanism::lane_count] = {};
  double travel[mechanism::lane_count], highest[mechanism::lane_count];
  find_first(model, p, o.contacts_off, trace);
  int left = 0;
  unsigned failed = 0;
  for (int lane = 0; lane < T::width; ++lane) {
    travel[lane] = o.fine;
    highest[lane] = 1;
    finished[lane] = trace[lane].room == 0;
    if (!finished[lane]) ++left;
  }
  while (left > 0) {
    Real h(0);
    for (int lane = 0; lane < T::width; ++lane)
      T::set(h, lane, travel[lane] / o.speed / static_cast<double>(1 << shrink[lane]));
    const auto before = p.motion;
    const auto ok = creep(model, options, o.drag_time, h,
                          Drive<Real>{finger, Real(up ? o.speed : -o.speed)}, p.motion, forces, 12);
    const Real key = watch(model, key_point, p.motion, forces.turned).y;
    const Real crown = watch(model, crown_point, p.motion, forces.turned).y;
    for (int lane = 0; lane < T::width; ++lane) {
      const auto back = [&] {
        for (int i = 0; i < model.count; ++i) {
          T::set(p.motion.q[i], lane, T::lane(before.q[i], lane));
          T::set(p.motion.v[i], lane, T::lane(before.v[i], lane));
        }
      };
      const auto finish = [&] {
        finished[lane] = true;
        --left;
      };
      if (finished[lane]) {
        back();
        continue;
      }
      SweepTrace& t = trace[lane];
      if (!ok[lane] || t.count == t.room) {
        if (++shrink[lane] > 10 || t.count == t.room) {
          failed |= 1U << lane;
          finish();
        }
        continue;
      }
      SweepPoint& row = t.rows[t.count];
      row = point_of(model, p, forces, key, crown, lane);
      const double stopped =
          row.front_force > row.string_force ? row.front_force : row.string_force;
      if (!up && stopped > 1.0003 * o.bottom_force && travel[lane] > 1e-8) {
        // Too far: from the row before, by the share of force that was wanting.
        const SweepPoint& last = t.rows[t.count - 1];
        const double had =
            last.front_force > last.string_force ? last.front_force : last.string_force;
        const double share = (o.bottom_force - had) / (stopped - had);
        travel[lane] *= share > 0.05 ? share : 0.05;
        back();
        continue;
      }
      ++t.count;
      if (shrink[lane] > 0) --shrink[lane];
      const bool arrived = up ? (row.depth < o.shallowest || row.force <= 0)
                              : (stopped > 0.9997 * o.bottom_force || row.depth > o.deepest);
      if (arrived) {
        finish();
        continue;
      }
      if (row.below < highest[lane]) highest[lane] = row.below;
      travel[lane] = next_travel(t, highest[lane], o, up);
    }
  }
  return failed;
}

// One note, into a vector; 0 if all went well.
inline int press(const mechanism::Model<double>& model, Pressing<double>& p, const SweepOptions& o,
                 bool up, std::vector<SweepPoint>* trace) {
  trace->resize(most_sweep_rows);
  SweepTrace rows{trace->data(), most_sweep_rows, 0};
  const unsigned failed = press(model, p, o, up, &rows);
  trace->resize(static_cast<std::size_t>(rows.count));
  return failed == 0 ? 0 : 1;
}

}  // namespace batten::action

// Slow presses side by side; included by one source for each instruction set.
#pragma once

#include "core/action/slow.hpp"
#include "core/mechanism/pack.hpp"

namespace batten::action::slow {

template <class Real>
void run_jobs(const mechanism::Model<Real>& model, Job* jobs, int count) {
  using T = mechanism::RealTraits<Real>;
  Pressing<Real> rest = settle(model);
  SweepTrace traces[T::width];
  const auto take = [&](SweepTrace Job::*which) {
    for (int lane = 0; lane < T::width; ++lane)
      traces[lane] = lane < count ? jobs[lane].*which : SweepTrace{};
  };
  const auto give = [&](SweepTrace Job::*which) {
    for (int lane = 0; lane < count; ++lane) jobs[lane].*which = traces[lane];
  };
  const auto go = [&](Pressing<Real>& p, const SweepOptions& o, SweepTrace Job::*which, bool up) {
    take(which);
    const unsigned failed = press(model, p, o, up, traces);
    give(which);
    for (int lane = 0; lane < count; ++lane)
      if (((failed >> lane) & 1U) != 0) jobs[lane].failed = true;
  };
  {
    // Rest, as a press of no length.
    SweepPoint rows[T::width];
    for (int lane = 0; lane < T::width; ++lane) traces[lane] = {&rows[lane], 1, 0};
    find_first(model, rest, 0, traces);
    for (int lane = 0; lane < count; ++lane) {
      jobs[lane].rest = rows[lane];
      jobs[lane].rest_key = T::lane(rest.rest_key, lane);
    }
  }
  const SweepOptions& sweep = jobs[0].sweep;
  SweepOptions weigh = sweep;
  weigh.contacts_off |= bit(key_damper);
  weigh.deepest = weigh_to + 2e-4;
  weigh.shallowest = weigh_from - 2e-4;
  Pressing<Real> p = rest;
  go(p, weigh, &Job::weigh_down, false);
  go(p, weigh, &Job::weigh_up, true);
  p = rest;
  go(p, sweep, &Job::down, false);
  if (jobs[0].with_trial) {
    Trial trials[mechanism::lane_count];
    try_out(model, rest, p, TrialLaw{}, trials);
    for (int lane = 0; lane < count; ++lane) jobs[lane].trial = trials[lane];
  }
  go(p, sweep, &Job::up, true);
}

template <class Real>
void run_packed(Job* jobs, int count) {
  using T = mechanism::RealTraits<Real>;
  mechanism::Model<Real> model;
  for (int lane = 0; lane < T::width; ++lane)
    mechanism::put_lane(*jobs[lane < count ? lane : 0].model, model, lane);
  run_jobs(model, jobs, count);
}

}  // namespace batten::action::slow

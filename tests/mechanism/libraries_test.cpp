// The same mechanisms in Simbody 3.7 (another formulation of the bodies, contacts written anew from
// positions and velocities of points) and in SUNDIALS CVODE 6.4 (another integrator).
#include "tests/mechanism/cvode_run.hpp"
#include "tests/mechanism/plain_of.hpp"
#include "tests/mechanism/samples.hpp"
#include "tests/mechanism/simbody_mechanism.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace batten::tests {
namespace {

using namespace mechanism;

// Largest difference of the accelerations, as a share of the largest acceleration.
double acceleration_error(Trial& trial, SimbodyMechanism& other) {
  const int n = trial.model.count;
  other.set({trial.motion.q, trial.motion.q + n}, {trial.motion.v, trial.motion.v + n});
  const std::vector<double> theirs = other.accelerations();
  double ours[max_coordinates];
  calc_acceleration(trial.model, trial.motion, trial.extra, trial.options, trial.forces, ours);
  double worst = 0, largest = 0;
  for (int i = 0; i < n; ++i) {
    worst = std::max(worst, std::abs(ours[i] - theirs[static_cast<std::size_t>(i)]));
    largest = std::max(largest, std::abs(ours[i]));
  }
  return worst / largest;
}

// Every pair of partners, carried pins, slides, couplings, stops, ties. A corner can only be judged
// differently (inside of a box, nearer end of an arc) on a set of measure zero.
TEST(Simbody, accelerations_of_tangles) {
  double worst = 0;
  for (unsigned seed = 0; seed < 300; ++seed) {
    const Description d = tangle(seed);
    Trial trial(d);
    SimbodyMechanism other(plain_of(d));
    for (int i = 0; i < trial.model.count; ++i) {
      trial.q(i) = 0.3 * std::sin(1.7 * i + seed);
      trial.v(i) = std::cos(2.3 * i + seed);
    }
    const double error = acceleration_error(trial, other);
    EXPECT_LT(error, 1e-10) << seed;
    worst = std::max(worst, error);
  }
  RecordProperty("worst", figure(worst));
}

// One contact alone, so that a small force does not hide behind a large one.
TEST(Simbody, accelerations_by_each_contact_alone) {
  double worst = 0;
  int pressed[4] = {};
  for (unsigned seed = 0; seed < 30; ++seed) {
    const Description all = tangle(seed);
    for (const Contact& contact : all.contacts) {
      Description d = all;
      d.contacts = {contact};
      d.couplings.clear();
      d.stops.clear();
      d.ties.clear();
      d.gravity = {0, 0};
      Trial trial(d);
      SimbodyMechanism other(plain_of(d));
      for (int i = 0; i < trial.model.count; ++i) {
        trial.q(i) = 0.3 * std::sin(1.7 * i + seed);
        trial.v(i) = std::cos(2.3 * i + seed);
      }
      worst = std::max(worst, acceleration_error(trial, other));
      if (trial.forces.contacts[0].force > 0)
        ++pressed[contact.round == RoundKind::arc ? 3 : static_cast<int>(contact.solid)];
    }
  }
  EXPECT_LT(worst, 1e-10);
  for (const int count : pressed) EXPECT_GT(count, 30);
  RecordProperty("worst", figure(worst));
}

Trial struck() {
  Trial trial(train());
  trial.v(0) = trial.v(1) = 6;  // the beam is knocked, its end downward
  return trial;
}

// Along a whole throw, contacts coming and going.
TEST(Simbody, accelerations_along_a_throw) {
  Trial trial = struck();
  SimbodyMechanism other(plain_of(trial.description));
  double worst = 0, farthest = 0;
  for (int k = 0; k < 400; ++k) {
    worst = std::max(worst, acceleration_error(trial, other));
    farthest = std::max(farthest, std::abs(trial.q(5)));
    trial.step(1e-4);
  }
  EXPECT_GT(farthest, 0.1);
  EXPECT_LT(worst, 1e-10);
  RecordProperty("worst", figure(worst));
}

constexpr double throw_time = 0.012;

Trial thrown_exactly() {
  Trial trial = struck();
  for (int k = 0; k < 24000; ++k) trial.exactly(throw_time / 24000);
  return trial;
}

// 12 ms of the throw by Simbody's Runge–Kutta–Merson at accuracy 1e-9, forces and all.
TEST(Simbody, trajectory_of_a_throw) {
  Trial trial = thrown_exactly();
  SimbodyMechanism other(plain_of(trial.description));
  Trial start = struck();
  const int n = start.model.count;
  other.set({start.motion.q, start.motion.q + n}, {start.motion.v, start.motion.v + n});
  other.integrate(throw_time, 1e-9);
  const std::vector<double> q = other.q(), v = other.v();
  double worst_q = 0, worst_v = 0;
  for (std::size_t i = 0; i < static_cast<std::size_t>(n); ++i) {
    worst_q = std::max(worst_q, std::abs(trial.motion.q[i] - q[i]));
    worst_v = std::max(worst_v, std::abs(trial.motion.v[i] - v[i]));
  }
  EXPECT_GT(std::abs(trial.q(5)), 0.05);
  EXPECT_LT(worst_q, 1e-7);
  EXPECT_LT(worst_v, 1e-4);
  RecordProperty("posture", figure(worst_q));
  RecordProperty("speed", figure(worst_v));
}

TEST(Cvode, trajectory_of_a_throw) {
  const Trial trial = thrown_exactly();
  Trial other = struck();
  ASSERT_TRUE(integrate_by_cvode(other, throw_time, 1e-11));
  double worst_q = 0, worst_v = 0;
  for (int i = 0; i < other.model.count; ++i) {
    worst_q = std::max(worst_q, std::abs(trial.motion.q[i] - other.q(i)));
    worst_v = std::max(worst_v, std::abs(trial.motion.v[i] - other.v(i)));
  }
  EXPECT_LT(worst_q, 1e-7);
  EXPECT_LT(worst_v, 1e-4);
  RecordProperty("posture", figure(worst_q));
  RecordProperty("speed", figure(worst_v));
}

// The step that is used, against CVODE: speed of the head at the end of the throw.
TEST(Cvode, judges_the_linearly_implicit_step) {
  Trial exact = struck();
  ASSERT_TRUE(integrate_by_cvode(exact, throw_time, 1e-10));
  const double speed = watch(exact.model, 1, exact.motion).speed_y;
  EXPECT_GT(speed, 1);
  const auto error = [&](double h) {
    Trial trial = struck();
    trial.options.soft_friction_slope = true;
    const int steps = static_cast<int>(std::lround(throw_time / h));
    for (int k = 0; k < steps; ++k) trial.step(h);
    return watch(trial.model, 1, trial.motion).speed_y / speed - 1;
  };
  const double coarse = error(1e-4), middle = error(5e-5), fine = error(1e-5);
  EXPECT_LT(std::abs(coarse), 0.05);
  EXPECT_LT(std::abs(middle), 0.03);
  EXPECT_LT(std::abs(fine), 0.006);
  RecordProperty("at_100_us", figure(coarse));
  RecordProperty("at_50_us", figure(middle));
  RecordProperty("at_10_us", figure(fine));
}

}  // namespace
}  // namespace batten::tests

// Stiffness and damping against central differences of the forces, on random mechanisms with every
// pair of partners. The differences are Richardson's: two steps, the h^2 term removed.
#include "tests/mechanism/runs.hpp"
#include "tests/mechanism/samples.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

namespace batten::tests {
namespace {

using namespace mechanism;

// The differences' own error is about their doubt: 1e-8 where all is smooth.
constexpr double doubtful = 1e-5;

Motion<double> random_motion(int count, unsigned seed, double angle) {
  std::mt19937 random(seed + 1000);
  const auto uniform = [&] { return static_cast<double>(random()) / 2147483648.0 - 1; };
  Motion<double> motion{};
  for (int i = 0; i < count; ++i) {
    motion.q[i] = angle * uniform();
    motion.v[i] = uniform();
  }
  return motion;
}

struct Differences {
  double stiffness[max_coordinates][max_coordinates] = {};
  double damping[max_coordinates][max_coordinates] = {};
  // Corners (a first touch, a box's faces meeting, an arc's ends, the bracket's limits) have no
  // derivative. Where one lies within reach the two steps do not agree, to this share of the
  // largest.
  double doubt = 0;
};

Differences differences(Trial& trial) {
  Differences d;
  const Motion<double> at = trial.motion;
  const int n = trial.model.count;
  for (const bool speed : {false, true}) {
    double largest = 1e-9, apart = 0;
    for (int j = 0; j < n; ++j) {
      const auto slope = [&](double h, double* column) {
        for (const double sign : {1.0, -1.0}) {
          trial.motion = at;
          (speed ? trial.motion.v : trial.motion.q)[j] += sign * h;
          trial.evaluate();
          for (int i = 0; i < n; ++i) column[i] += sign * trial.forces.force[i] / (2 * h);
        }
      };
      double fine[max_coordinates] = {}, coarse[max_coordinates] = {};
      slope(2e-5, fine);
      slope(4e-5, coarse);
      for (int i = 0; i < n; ++i) {
        (speed ? d.damping : d.stiffness)[i][j] = (4 * fine[i] - coarse[i]) / 3;
        largest = std::max(largest, std::abs(fine[i]));
        apart = std::max(apart, std::abs(fine[i] - coarse[i]));
      }
    }
    d.doubt = std::max(d.doubt, apart / largest);
  }
  trial.motion = at;
  trial.evaluate();
  return d;
}

struct Worst {
  double stiffness = 0, damping = 0;  // share of the largest
  double doubt = 0;
  int pressed = 0;
};
Worst compare(Trial& trial) {
  const Differences d = differences(trial);
  double k = 1e-9, c = 1e-9;
  Worst worst;
  worst.doubt = d.doubt;
  for (int i = 0; i < trial.model.count; ++i)
    for (int j = 0; j < trial.model.count; ++j) {
      k = std::max(k, std::abs(d.stiffness[i][j]));
      c = std::max(c, std::abs(d.damping[i][j]));
      worst.stiffness =
          std::max(worst.stiffness, std::abs(d.stiffness[i][j] - trial.forces.stiffness[i][j]));
      worst.damping =
          std::max(worst.damping, std::abs(d.damping[i][j] - trial.forces.damping[i][j]));
    }
  worst.stiffness /= k;
  worst.damping /= c;
  for (const auto& t : trial.forces.contacts) worst.pressed += t.gap < 0 ? 1 : 0;
  return worst;
}

// One contact at a time, so that nothing hides behind a stiffer one.
RC_GTEST_PROP(Derivatives, of_one_contact, ()) {
  const unsigned seed = *rc::gen::inRange(0U, 1000000U);
  Description d = tangle(seed);
  const std::size_t which = *rc::gen::inRange<std::size_t>(0, d.contacts.size());
  d.contacts = {d.contacts[which]};
  d.ties.clear();
  d.couplings.clear();
  d.stops.clear();
  d.gravity = {0, 0};
  for (Body& b : d.bodies) b.mass = b.inertia = 1e-6;  // leave the contact's terms alone
  Trial trial(d);
  trial.motion = random_motion(trial.model.count, seed, 0.4);
  const auto differ = compare(trial);
  RC_PRE(differ.pressed == 1 && differ.doubt < doubtful);
  RC_TAG(d.contacts[0].solid == SolidKind::disc  ? "disc"
         : d.contacts[0].solid == SolidKind::box ? "box"
         : d.contacts[0].round == RoundKind::arc ? "arc"
                                                 : "line");
  RC_ASSERT(differ.stiffness < 1e-6 + 10 * differ.doubt);
  RC_ASSERT(differ.damping < 1e-6 + 10 * differ.doubt);
}

RC_GTEST_PROP(Derivatives, of_a_whole_tangle, ()) {
  const unsigned seed = *rc::gen::inRange(0U, 1000000U);
  Trial trial(tangle(seed));
  trial.motion = random_motion(trial.model.count, seed, 0.4);
  const auto differ = compare(trial);
  RC_PRE(differ.doubt < doubtful);
  RC_ASSERT(differ.pressed > 3);
  RC_ASSERT(differ.stiffness < 1e-6 + 10 * differ.doubt);
  RC_ASSERT(differ.damping < 1e-6 + 10 * differ.doubt);
}

RC_GTEST_PROP(Derivatives, of_inertia_springs_stops_and_ties, ()) {
  const unsigned seed = *rc::gen::inRange(0U, 1000000U);
  Description d = tangle(seed);
  d.contacts.clear();
  Trial trial(d);
  trial.motion = random_motion(trial.model.count, seed, 1.5);
  for (int i = 2; i < trial.model.count; ++i) trial.motion.v[i] *= 10;
  const auto differ = compare(trial);
  RC_PRE(differ.doubt < doubtful);
  RC_ASSERT(differ.stiffness < 1e-6 + 10 * differ.doubt);
  RC_ASSERT(differ.damping < 1e-6 + 10 * differ.doubt);
}

// Without speeds the forces are the slope of the stored energy, downhill: that is what makes the
// contacts' normals right, not only their derivatives.
RC_GTEST_PROP(Derivatives, forces_are_the_slope_of_the_stored_energy, ()) {
  const unsigned seed = *rc::gen::inRange(0U, 1000000U);
  Description d = tangle(seed);
  const std::size_t which = *rc::gen::inRange<std::size_t>(0, d.contacts.size());
  d.contacts = {d.contacts[which]};
  Trial trial(d);
  trial.motion = random_motion(trial.model.count, seed, 0.4);
  for (double& v : trial.motion.v) v = 0;
  trial.evaluate();
  const Forces<double> forces = trial.forces;
  RC_PRE(forces.contacts[0].gap < 0);
  const Motion<double> at = trial.motion;
  double scale = 1e-9, doubt = 0, worst = 0;
  for (int i = 0; i < trial.model.count; ++i) {
    const auto slope = [&](double h) {
      double sum = 0;
      for (const double sign : {1.0, -1.0}) {
        trial.motion = at;
        trial.q(i) += sign * h;
        sum += sign * trial.energy() / (2 * h);
      }
      return sum;
    };
    const double fine = slope(5e-5), coarse = slope(1e-4);
    scale = std::max(scale, std::abs(fine));
    doubt = std::max(doubt, std::abs(fine - coarse));
    worst = std::max(worst, std::abs((4 * fine - coarse) / 3 + forces.force[i]));
  }
  RC_PRE(doubt < 1e-4 * scale);
  RC_ASSERT(worst < 1e-6 * scale + doubt);
}

// The mass matrix: kinetic energy of points followed by differences. The mass of each body is seen
// as two points at its radius of inertia either side of its centre, which have the same moments.
TEST(Derivatives, mass_matrix_is_the_kinetic_energy_of_the_masses) {
  for (unsigned seed = 0; seed < 50; ++seed) {
    Description d = tangle(seed);
    d.probes.clear();
    std::vector<double> masses;
    for (std::size_t b = 0; b < d.bodies.size(); ++b) {
      const Body& body = d.bodies[b];
      const double reach = body.mass > 0 ? std::sqrt(body.inertia / body.mass) : 0;
      for (const double side : {1.0, -1.0}) {
        d.probes.push_back(
            {"p", static_cast<int>(b), {body.centre.x + side * reach, body.centre.y}});
        masses.push_back(body.mass / 2);
      }
    }
    Trial trial(d);
    trial.motion = random_motion(trial.model.count, seed, 1.5);
    double kinetic = 0;
    const double h = 1e-6;
    for (std::size_t p = 0; p < masses.size(); ++p) {
      Motion<double> ahead = trial.motion, behind = trial.motion;
      for (int i = 0; i < trial.model.count; ++i) {
        ahead.q[i] += h * trial.motion.v[i];
        behind.q[i] -= h * trial.motion.v[i];
      }
      const auto a = watch(trial.model, static_cast<int>(p), ahead);
      const auto b = watch(trial.model, static_cast<int>(p), behind);
      const double vx = (a.x - b.x) / (2 * h), vy = (a.y - b.y) / (2 * h);
      kinetic += 0.5 * masses[p] * (vx * vx + vy * vy);
    }
    EXPECT_NEAR(calc_energy(trial.model, trial.motion).kinetic / kinetic, 1, 1e-8) << seed;
  }
}

}  // namespace
}  // namespace batten::tests

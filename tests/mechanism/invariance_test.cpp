// The same mechanism in a mirror and in other units moves the same.
#include "tests/mechanism/runs.hpp"
#include "tests/mechanism/samples.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <utility>

namespace batten::tests {
namespace {

using namespace mechanism;

// x -> -x: pins turn the other way, slides move by the same amount along the mirrored direction.
Description mirrored(Description d) {
  const auto flip = [](Point& p) { p.x = -p.x; };
  const auto pin = [&](int body) {
    return d.bodies[static_cast<std::size_t>(body)].joint == JointKind::pin;
  };
  flip(d.gravity);
  for (Body& b : d.bodies) {
    flip(b.at);
    flip(b.direction);
    flip(b.centre);
  }
  for (Contact& c : d.contacts) {
    flip(c.arc.centre);
    std::swap(c.arc.from, c.arc.to);
    c.arc.from = pi - c.arc.from;
    c.arc.to = pi - c.arc.to;
    flip(c.line.point);
    flip(c.line.normal);
    flip(c.disc.centre);
    flip(c.box.centre);
    c.box.angle = -c.box.angle;
  }
  for (Coupling& c : d.couplings)
    if (pin(c.a)) c.rest = -c.rest;
  for (Stop& s : d.stops)
    if (pin(s.a)) {
      s.limit = -s.limit;
      s.side = -s.side;
    }
  for (Tie& t : d.ties) {
    flip(t.on_a);
    flip(t.on_b);
  }
  for (Probe& p : d.probes) flip(p.at);
  return d;
}

// Lengths times `length`, masses times `mass`, times times `time`.
struct Units {
  double length, mass, time;
};
Description converted(Description d, const Units& u) {
  const double force = u.mass * u.length / (u.time * u.time);
  const double speed = u.length / u.time;
  const auto scale = [&](Point& p, double by) {
    p.x *= by;
    p.y *= by;
  };
  const auto scale_law = [&](ContactLaw& law) {
    law.stiffness *= force / std::pow(u.length, 0.5 * law.half_powers);
    law.damping /= speed;
    law.slip_speed *= speed;
  };
  scale(d.gravity, speed / u.time);
  for (Body& b : d.bodies) {
    scale(b.at, u.length);
    scale(b.centre, u.length);
    b.mass *= u.mass;
    b.inertia *= u.mass * u.length * u.length;
  }
  for (Contact& c : d.contacts) {
    scale(c.arc.centre, u.length);
    c.arc.radius *= u.length;
    scale(c.line.point, u.length);
    scale(c.disc.centre, u.length);
    c.disc.radius *= u.length;
    scale(c.box.centre, u.length);
    c.box.half_width *= u.length;
    c.box.half_height *= u.length;
    c.box.corner *= u.length;
    scale_law(c.law);
  }
  for (Coupling& c : d.couplings) {
    // Force per displacement, or torque per angle.
    const bool pin = d.bodies[static_cast<std::size_t>(c.a)].joint == JointKind::pin;
    const double displacement = pin ? 1 : u.length;
    const double effort = pin ? force * u.length : force;
    c.stiffness *= effort / displacement;
    c.rest *= displacement;
    c.viscous *= effort / displacement * u.time;
    c.friction *= effort;
    c.slip *= displacement / u.time;
  }
  for (Stop& s : d.stops) {
    if (d.bodies[static_cast<std::size_t>(s.a)].joint == JointKind::pin) {
      s.arm *= u.length;
    } else {
      s.limit *= u.length;
    }
    scale_law(s.law);
  }
  for (Tie& t : d.ties) {
    scale(t.on_a, u.length);
    scale(t.on_b, u.length);
    t.stiffness *= force / u.length;
    t.viscous *= force / speed;
  }
  for (Probe& p : d.probes) scale(p.at, u.length);
  return d;
}

void push_down(Trial& trial, double force) {
  for (double& e : trial.extra) e = 0;
  push(trial.model, 0, trial.motion, 0.0, -force, trial.extra);
}

// A full throw and return of the train; in the mirror every operation is the same but for signs.
TEST(Invariance, in_the_mirror) {
  Trial plain(train()), mirror(mirrored(train()));
  plain.options.soft_friction_slope = mirror.options.soft_friction_slope = true;
  double worst = 0;
  for (int k = 0; k < 1000; ++k) {
    push_down(plain, train_push);
    push_down(mirror, train_push);
    plain.step(1e-4);
    mirror.step(1e-4);
    for (int i = 0; i < plain.model.count; ++i) {
      const double sign = plain.model.slide[i] ? 1 : -1;
      worst = std::max(worst, std::abs(plain.q(i) - sign * mirror.q(i)));
    }
  }
  EXPECT_GT(std::abs(plain.q(5)), 0.05);
  EXPECT_LT(worst, 1e-11);
  RecordProperty("worst", figure(worst));
}

TEST(Invariance, forces_of_tangles_in_the_mirror) {
  for (unsigned seed = 0; seed < 200; ++seed) {
    Trial plain(tangle(seed)), mirror(mirrored(tangle(seed)));
    double scale = 0, worst = 0;
    for (int i = 0; i < plain.model.count; ++i) {
      const double sign = plain.model.slide[i] ? 1 : -1;
      plain.q(i) = 0.3 * std::sin(1.7 * i + seed);
      plain.v(i) = std::cos(2.3 * i + seed);
      mirror.q(i) = sign * plain.q(i);
      mirror.v(i) = sign * plain.v(i);
    }
    plain.evaluate();
    mirror.evaluate();
    for (int i = 0; i < plain.model.count; ++i) {
      const double sign = plain.model.slide[i] ? 1 : -1;
      scale = std::max(scale, std::abs(plain.forces.force[i]));
      worst = std::max(worst, std::abs(plain.forces.force[i] - sign * mirror.forces.force[i]));
    }
    EXPECT_LT(worst, 1e-10 * scale) << seed;
  }
}

TEST(Invariance, in_other_units) {
  for (const Units& units : {Units{1e3, 1e3, 1e3}, Units{0.3048, 0.4536, 1}, Units{7, 0.1, 30}}) {
    Trial plain(train()), other(converted(train(), units));
    plain.options.soft_friction_slope = other.options.soft_friction_slope = true;
    const double force = units.mass * units.length / (units.time * units.time);
    double worst = 0;
    for (int k = 0; k < 400; ++k) {
      push_down(plain, train_push);
      push_down(other, train_push * force);
      plain.step(1e-4);
      other.step(1e-4 * units.time);
      for (int i = 0; i < plain.model.count; ++i)
        worst = std::max(
            worst, std::abs(plain.q(i) - other.q(i) / (plain.model.slide[i] ? units.length : 1)));
    }
    EXPECT_LT(worst, 1e-9);
    RecordProperty("worst", figure(worst));
  }
}

TEST(Invariance, forces_of_tangles_in_other_units) {
  const Units units{7, 0.1, 30};
  const double force = units.mass * units.length / (units.time * units.time);
  for (unsigned seed = 0; seed < 200; ++seed) {
    Trial plain(tangle(seed)), other(converted(tangle(seed), units));
    double scale = 0, worst = 0;
    for (int i = 0; i < plain.model.count; ++i) {
      const double unit = plain.model.slide[i] ? units.length : 1;
      plain.q(i) = 0.3 * std::sin(1.7 * i + seed);
      plain.v(i) = std::cos(2.3 * i + seed);
      other.q(i) = plain.q(i) * unit;
      other.v(i) = plain.v(i) * unit / units.time;
    }
    plain.evaluate();
    other.evaluate();
    for (int i = 0; i < plain.model.count; ++i) {
      const double unit = force * (plain.model.slide[i] ? 1 : units.length);
      scale = std::max(scale, std::abs(plain.forces.force[i]));
      worst = std::max(worst, std::abs(plain.forces.force[i] - other.forces.force[i] / unit));
    }
    EXPECT_LT(worst, 1e-10 * scale) << seed;
  }
}

}  // namespace
}  // namespace batten::tests

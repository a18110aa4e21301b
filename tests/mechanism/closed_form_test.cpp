// Mechanisms whose motion has a closed form. Those without a reference are textbook mechanics,
// derived in the comment beside them.
#include "tests/mechanism/runs.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <tuple>

namespace batten::tests {
namespace {

using namespace mechanism;

constexpr double g = 9.80665;

// Period of a physical pendulum at any amplitude: 4 sqrt(I / m g l) K(sin(amplitude / 2)), K the
// complete elliptic integral of the first kind (Landau & Lifshitz, Mechanics, section 11, problem
// 1). Worst found 4e-12.
TEST(ClosedForm, pendulum_period_at_finite_amplitude) {
  const double mass = 0.3, length = 0.21, inertia = 1.7e-3;
  Description d;
  d.bodies = {pinned("pendulum", ground, {0.4, -0.1}, mass, {0, -length}, inertia)};
  for (const double amplitude : {0.01, 0.5, 1.5, 3.0}) {
    Trial trial(d);
    trial.q(0) = amplitude;
    const double small = std::sqrt((inertia + mass * length * length) / (mass * g * length));
    const double expected = small * std::comp_ellint_1(std::sin(amplitude / 2));
    const double quarter =
        time_of_zero(trial, expected / 2000, 2 * expected, [](Trial& r) { return r.q(0); });
    EXPECT_NEAR(quarter / expected, 1, 1e-10) << amplitude;
  }
}

// Two equal point masses on equal threads: omega^2 = (2 -+ sqrt 2) g / l in the modes (1, +-sqrt 2)
// (Landau & Lifshitz, Mechanics, section 23, problem 2). What remains grows with the square of the
// amplitude, 1e-4 rad; worst found 2e-9.
TEST(ClosedForm, carried_pin_double_pendulum_modes) {
  const double length = 0.35;
  Description d;
  d.bodies = {pinned("upper", ground, {}, 0.2, {0, -length}, 0),
              pinned("lower", 0, {0, -length}, 0.2, {0, -length}, 0)};
  for (const double sign : {1.0, -1.0}) {
    Trial trial(d);
    trial.q(0) = 1e-4;
    trial.q(1) = sign * std::sqrt(2.0) * 1e-4;
    const double omega = std::sqrt((2 - sign * std::sqrt(2.0)) * g / length);
    const double quarter = pi / (2 * omega);
    EXPECT_NEAR(
        time_of_zero(trial, quarter / 1000, 2 * quarter, [](Trial& r) { return r.q(0); }) / quarter,
        1, 2e-8);
    EXPECT_NEAR(trial.q(1), 0, 1e-4 * 1e-7);  // both at once: it is a mode
  }
}

// Position of a four-bar linkage: intersection of two circles. The loop is closed by a tie, which
// gives way a little; driven at 2 rad/s in steps of 20 us. Worst found 5e-10 rad, tie 3e-11 m.
TEST(ClosedForm, four_bar_position) {
  const double crank = 0.03, coupler = 0.09, rocker = 0.07, base = 0.10;
  const auto rocker_tip = [&](double angle) {
    // Upper intersection of the circle about the crank's end and that about (base, 0).
    const double cx = crank * std::cos(angle), cy = crank * std::sin(angle);
    const double dx = base - cx, dy = -cy, apart = std::hypot(dx, dy);
    const double along = (coupler * coupler - rocker * rocker + apart * apart) / (2 * apart);
    const double off = std::sqrt(coupler * coupler - along * along);
    return Point{cx + (along * dx - off * dy) / apart, cy + (along * dy + off * dx) / apart};
  };
  const Point tip = rocker_tip(0);
  Description d;
  d.gravity = {0, 0};
  d.bodies = {pinned("crank", ground, {}, 0.01, {crank / 2, 0}, 1e-6),
              pinned("coupler", 0, {crank, 0}, 0.02, {(tip.x - crank) / 2, tip.y / 2}, 2e-6),
              pinned("rocker", ground, {base, 0}, 0.01, {(tip.x - base) / 2, tip.y / 2}, 1e-6)};
  d.ties = {{"joint", 1, 2, {tip.x - crank, tip.y}, {tip.x - base, tip.y}, 1e8, 1e3}};
  d.probes = {{"coupler's end", 1, {tip.x - crank, tip.y}},
              {"rocker's end", 2, {tip.x - base, tip.y}}};
  Trial trial(d);
  const double rest = std::atan2(tip.y, tip.x - base);
  double worst = 0, gap = 0;
  while (trial.q(0) < 2 * pi) {
    trial.step(20e-6, {0, 2.0});
    const Point expected = rocker_tip(trial.q(0));
    const double angle = std::atan2(expected.y, expected.x - base) - rest;
    if (trial.time < 0.05) continue;  // the start from rest rings away
    worst = std::max(worst, std::abs(trial.q(2) - angle));
    const auto a = watch(trial.model, 0, trial.motion), b = watch(trial.model, 1, trial.motion);
    gap = std::max(gap, std::hypot(a.x - b.x, a.y - b.y));
  }
  EXPECT_NEAR(trial.q(0), 2.0 * trial.time, 1e-10);  // as driven
  EXPECT_LT(worst, 5e-9);
  EXPECT_LT(gap, 3e-10);
  RecordProperty("angle", figure(worst));
  RecordProperty("tie", figure(gap));
}

// Slider and crank: x = r cos a + sqrt(l^2 - r^2 sin^2 a), a turning at 2 rad/s.
TEST(ClosedForm, slider_crank_position) {
  const double crank = 0.03, rod = 0.11;
  Description d;
  d.gravity = {0, 0};
  d.bodies = {pinned("crank", ground, {}, 0.01, {crank / 2, 0}, 1e-6),
              pinned("rod", 0, {crank, 0}, 0.02, {rod / 2, 0}, 2e-5),
              sliding("slider", ground, {crank + rod, 0}, {1, 0}, 0.05)};
  d.ties = {{"joint", 1, 2, {rod, 0}, {}, 1e8, 1e3}};
  Trial trial(d);
  double worst = 0;
  while (trial.q(0) < 2 * pi) {
    trial.step(20e-6, {0, 2.0});
    if (trial.time < 0.05) continue;
    const double s = crank * std::sin(trial.q(0));
    const double x = crank * std::cos(trial.q(0)) + std::sqrt(rod * rod - s * s);
    worst = std::max(worst, std::abs(trial.q(2) - (x - crank - rod)));
  }
  EXPECT_LT(worst, 1e-9);
  RecordProperty("place", figure(worst));
}

Description on_incline(double slope, double friction, double slip_speed, double mass,
                       double stiffness, double radius = 0, double inertia = 0) {
  Description d;
  const Point normal{std::sin(-slope), std::cos(slope)};
  d.bodies = {sliding("x", ground, {}, {1, 0}, 0),
              sliding("y", 0, {}, {0, 1}, radius > 0 ? 0 : mass)};
  if (radius > 0) d.bodies.push_back(pinned("disc", 1, {}, mass, {}, inertia));
  ContactLaw law;
  law.stiffness = stiffness;
  law.half_powers = 2;
  law.friction = friction;
  law.slip_speed = slip_speed;
  d.contacts = {disc_on_line(radius > 0 ? 2 : 1, {}, radius, ground,
                             {-radius * normal.x, -radius * normal.y}, normal, law)};
  return d;
}

// A block sliding down an incline: acceleration g (sin a - friction cos a). The friction's
// regularisation takes (slip_speed / v)^2 / 2 of it: 5e-9 of the friction here.
TEST(ClosedForm, block_slides_down_an_incline) {
  const double slope = 0.6, friction = 0.35, mass = 0.2, stiffness = 1e5, speed = 1;
  Trial trial(on_incline(slope, friction, 1e-4, mass, stiffness));
  const double sunk = mass * g * std::cos(slope) / stiffness;
  const Point normal{-std::sin(slope), std::cos(slope)}, down{-std::cos(slope), -std::sin(slope)};
  trial.q(0) = -sunk * normal.x;
  trial.q(1) = -sunk * normal.y;
  trial.v(0) = speed * down.x;
  trial.v(1) = speed * down.y;
  while (trial.time < 0.4 - 1e-9) trial.exactly(1e-4);
  const double travelled = trial.q(0) * down.x + trial.q(1) * down.y;
  const double a = g * (std::sin(slope) - friction * std::cos(slope));
  EXPECT_NEAR(travelled, speed * trial.time + a * trial.time * trial.time / 2, 2e-8);
  EXPECT_NEAR(trial.v(0) * down.x + trial.v(1) * down.y, speed + a * trial.time, 5e-8);
}

// Below the friction angle the block creeps: friction v / sqrt(v^2 + slip_speed^2) = tan a.
TEST(ClosedForm, block_creeps_below_the_friction_angle) {
  const double slope = 0.3, friction = 0.35, mass = 0.2, slip_speed = 1e-3;
  Trial trial(on_incline(slope, friction, slip_speed, mass, 1e5));
  trial.q(1) = -mass * g / 1e5;
  for (int k = 0; k < 20000; ++k) trial.step(1e-4);
  const double t = std::tan(slope);
  const double creep = slip_speed * t / std::sqrt(friction * friction - t * t);
  EXPECT_NEAR(std::hypot(trial.v(0), trial.v(1)) / creep, 1, 1e-6);
}

// A disc that rolls down without slipping: g sin a / (1 + I / m r^2). The slip that carries the
// force is constant, so it takes nothing from the acceleration.
TEST(ClosedForm, disc_rolls_down_an_incline) {
  const double slope = 0.4, mass = 0.2, radius = 0.05, inertia = 0.4 * mass * radius * radius;
  Trial trial(on_incline(slope, 0.8, 1e-3, mass, 1e6, radius, inertia));
  const double sunk = mass * g * std::cos(slope) / 1e6;
  trial.q(0) = sunk * std::sin(slope);
  trial.q(1) = -sunk * std::cos(slope);
  for (int k = 0; k < 4000; ++k) trial.exactly(5e-5);
  const Point down{-std::cos(slope), -std::sin(slope)};
  const double before = trial.v(0) * down.x + trial.v(1) * down.y, spin = trial.v(2);
  for (int k = 0; k < 4000; ++k) trial.exactly(5e-5);
  const double a = g * std::sin(slope) / (1 + inertia / (mass * radius * radius));
  EXPECT_NEAR((trial.v(0) * down.x + trial.v(1) * down.y - before) / 0.2 / a, 1, 1e-8);
  EXPECT_NEAR((trial.v(2) - spin) * radius / 0.2 / a, 1, 1e-8);
}

// A mass against k d^p: deepest d = ((p+1) m v^2 / 2k)^(1/(p+1)), in touch for 2 d / v times
// integral of dz / sqrt(1 - z^(p+1)) = sqrt(pi) Gamma(1 + 1/(p+1)) / Gamma(1/2 + 1/(p+1)); p = 1.5
// is Hertz's sphere, 2.943 d / v (Johnson, Contact Mechanics, 1985, eq. 11.24). It leaves as fast.
class PowerLaw : public testing::TestWithParam<int> {};
TEST_P(PowerLaw, impact_time_depth_and_rebound) {
  const double p = 0.5 * GetParam(), mass = 0.01, speed = 2;
  Description d;
  d.gravity = {0, 0};
  d.bodies = {sliding("ball", ground, {}, {0, 1}, mass)};
  d.contacts = {
      disc_on_line(0, {0, 0.02}, 0.02, ground, {}, {0, 1}, contact_law(100, 1e-3, GetParam()))};
  const double k = d.contacts[0].law.stiffness;
  const double deepest = std::pow((p + 1) * mass * speed * speed / (2 * k), 1 / (p + 1));
  const double shape =
      std::sqrt(pi) * std::tgamma(1 + 1 / (p + 1)) / std::tgamma(0.5 + 1 / (p + 1));
  if (GetParam() == 3) {
    EXPECT_NEAR(2 * shape, 2.943, 0.0005);
  }
  const double lasting = 2 * shape * deepest / speed;
  Trial trial(d);
  trial.v(0) = -speed;
  const double h = lasting / 4000;
  time_of_zero(trial, h, lasting, [](Trial& r) { return r.v(0); });
  EXPECT_NEAR(-trial.q(0) / deepest, 1, 1e-9);
  EXPECT_NEAR(trial.time / lasting, 0.5, 1e-7);
  const double end = time_of_zero(trial, h, 2 * lasting, [](Trial& r) { return r.q(0); });
  EXPECT_NEAR(end / lasting, 1, 1e-7);
  EXPECT_NEAR(trial.v(0) / speed, 1, 1e-8);
}
INSTANTIATE_TEST_SUITE_P(Exponents, PowerLaw, testing::Values(2, 3, 4, 5, 6, 7, 8));

// With Hunt and Crossley's damping c the speeds in and out are tied by integrating
// m v dv/dd = -k d^p (1 + c v): c v_in - ln(1 + c v_in) = -c v_out - ln(1 - c v_out).
TEST(ClosedForm, rebound_from_a_damped_contact) {
  for (const double damping : {0.05, 0.2, 0.6}) {
    Description d;
    d.gravity = {0, 0};
    d.bodies = {sliding("ball", ground, {}, {0, 1}, 0.01)};
    d.contacts = {disc_on_line(0, {}, 0, ground, {}, {0, 1}, contact_law(100, 1e-3, 5, damping))};
    Trial trial(d);
    trial.v(0) = -1.3;
    time_of_zero(trial, 1e-6, 0.1, [](Trial& r) { return r.v(0); });
    time_of_zero(trial, 1e-6, 0.1, [](Trial& r) { return r.q(0); });
    const double in = damping * 1.3, out = damping * trial.v(0);
    EXPECT_LT(out, in);
    EXPECT_NEAR((in - std::log1p(in)) / (-out - std::log1p(-out)), 1, 1e-7);
  }
}

// The same blow against a stop at an arm: the moment of inertia counts as I / arm^2.
TEST(ClosedForm, impact_against_a_stop) {
  const double inertia = 2e-5, arm = 0.02, speed = 30, p = 1.5;
  Description d;
  d.gravity = {0, 0};
  d.bodies = {pinned("lever", ground, {}, 0, {}, inertia)};
  d.stops = {{"stop", 0, ground, 0.3, arm, -1, contact_law(10, 2e-4, 3)}};
  Trial trial(d);
  trial.q(0) = 0.3;
  trial.v(0) = speed;
  time_of_zero(trial, 1e-6, 1, [](Trial& r) { return r.v(0); });
  const double k = d.stops[0].law.stiffness, mass = inertia / (arm * arm), v = speed * arm;
  EXPECT_NEAR((trial.q(0) - 0.3) * arm / std::pow((p + 1) * mass * v * v / (2 * k), 1 / (p + 1)), 1,
              1e-8);
}

// A sprung lever with dry friction f loses 2 f / k of amplitude each half swing (Den Hartog,
// Mechanical Vibrations, section 8.6), with viscous friction the factor exp(-zeta pi / sqrt(1 -
// zeta^2)). Dry: what the slip speed of 1e-5 rad/s leaves is below 1e-6.
TEST(ClosedForm, swings_die_out_by_dry_and_viscous_friction) {
  const double inertia = 3e-4, stiffness = 5, friction = 0.02, viscous = 4e-3;
  Description d;
  d.gravity = {0, 0};
  d.bodies = {pinned("lever", ground, {}, 0, {}, inertia)};
  d.couplings = {{"spring", 0, ground, stiffness, 0.1, 0, friction, 1e-5}};
  const auto half_swing = [&](double away) {
    Trial trial(d);
    trial.q(0) = 0.1 + away;
    trial.v(0) = -1e-9;
    time_of_zero(trial, 1e-5, 1, [](Trial& r) { return r.v(0) + 1e-12; });
    return 0.1 - trial.q(0);
  };
  EXPECT_NEAR(half_swing(0.5), 0.5 - 2 * friction / stiffness, 1e-6);
  d.couplings[0].friction = 0;
  d.couplings[0].viscous = viscous;
  const double zeta = viscous / (2 * std::sqrt(stiffness * inertia));
  EXPECT_NEAR(half_swing(0.5) / (0.5 * std::exp(-zeta * pi / std::sqrt(1 - zeta * zeta))), 1, 1e-8);
}

// Two levers joined by a spring against each other's reaction: omega^2 = k (1/I1 + 1/I2).
TEST(ClosedForm, two_levers_on_one_spring) {
  const double first = 3e-4, second = 5e-4, stiffness = 5;
  Description d;
  d.gravity = {0, 0};
  d.bodies = {pinned("a", ground, {}, 0, {}, first), pinned("b", ground, {0.1, 0}, 0, {}, second)};
  d.couplings = {{"spring", 0, 1, stiffness, 0, 0, 0, 0.01}};
  Trial trial(d);
  trial.q(0) = 0.2;
  const double quarter = pi / 2 / std::sqrt(stiffness * (1 / first + 1 / second));
  EXPECT_NEAR(
      time_of_zero(trial, quarter / 1000, 1, [](Trial& r) { return r.q(0) - r.q(1); }) / quarter, 1,
      1e-10);
}

}  // namespace
}  // namespace batten::tests

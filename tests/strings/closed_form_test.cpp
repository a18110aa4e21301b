// Blows that textbooks solve.
#include "tests/strings/free_head.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace batten::tests {
namespace {

// Impedance 7 N s/m, waves at 100 m/s; a head of 10 g. Delay to the near end `near` seconds.
constexpr double wave_impedance = 7;
constexpr double mass = 10e-3;
constexpr double rate = 2 * wave_impedance / mass;  // 1/s

Unison plain_string(double near, double strike_ratio) {
  const double length = 50 * near / strike_ratio;
  return {1, 700, length, 0.07 * length, strike_ratio, 1};
}

// Cannot move: impedance 1e6 N s/m.
constexpr Unison wall{1, 1e9, 1, 1e3, 0.5, 1};

TEST(Strings, have_the_impedance_and_period_of_textbooks) {
  // Morse, Vibration and Sound, 1948: Z = sqrt(T mu), fundamental = sqrt(T/mu)/(2 L).
  const Unison c4 = known_notes[1].unison;
  EXPECT_NEAR(impedance(c4), 3 * std::sqrt(670 * 3.93e-3 / 0.62), 1e-12);
  // C4 in equal temperament from A4 = 440 Hz (ISO 16): 261.6 Hz.
  EXPECT_NEAR(1 / period(c4), 440 * std::exp2(-9.0 / 12), 1.0);
  EXPECT_NEAR(impedance(plain_string(2e-3, 0.1)), wave_impedance, 1e-12);
}

// Mass behind a linear spring on an endless string, which is a dashpot 2 Z:
// F'' + (k / 2Z) F' + (k / m) F = 0, F(0) = 0, F'(0) = k v. Elementary.
TEST(Strings, are_a_dashpot_until_the_first_echo) {
  constexpr double spring = 1e6;
  constexpr double speed = 2;
  const double half = spring / (4 * wave_impedance);
  const double root = std::sqrt(half * half - spring / mass);
  const double slow = half - root;
  const double fast = half + root;
  // Impulse so far: F integrated.
  const auto impulse_at = [&](double t) {
    const auto part = [&](double r) { return (1 - std::exp(-r * t)) / r; };
    return spring * speed / (fast - slow) * (part(slow) - part(fast));
  };
  StruckUnison strings(plain_string(4e-3, 0.5), {spring, 1}, 1e-6);
  Head head{mass, 0, speed};
  double worst = 0;
  for (int i = 1; i <= 39; ++i) {
    step_head(strings, head, 100e-6);
    const double expected = speed - impulse_at(i * 100e-6) / mass;
    worst = std::max(worst, std::abs(head.speed - expected));
  }
  EXPECT_LT(worst, 1e-3 * speed);
}

// A hard mass: its speed falls as exp(-2 Z t / m) until the echo of the near end comes after
// tau; then v = v0 exp(-a t) (1 - a exp(a tau) (t - tau)), a = 2 Z / m, and it leaves at
// t = tau + (1 + exp(-a tau)) / a with -v0 exp(-(1 + exp(-a tau))).
// D. E. Hall, "Piano string excitation in the case of small hammer mass", JASA 79 (1986) 141; the
// end of contact derived from its force law, F = 2 Z (v(t) + v(t - tau)).
TEST(Strings, throw_a_hard_mass_back_with_the_first_echo) {
  constexpr double tau = 2e-3;
  constexpr double speed = 3;
  constexpr double step = 20e-6;
  StruckUnison strings(plain_string(tau, 0.05), {1e8, 1}, 0.2e-6);
  Head head{mass, 0, speed};
  const double decay = std::exp(rate * tau);
  const double end = tau + (1 + 1 / decay) / rate;
  ASSERT_LT(end, 2 * tau);
  double worst_before = 0;
  double worst_after = 0;
  double told_apart = 0;
  double contact_time = 0;
  for (int i = 1; i <= 200; ++i) {
    contact_time += step_head(strings, head, step).contact_time;
    const double t = i * step;
    const double plain = speed * std::exp(-rate * t);
    if (t < tau) worst_before = std::max(worst_before, std::abs(head.speed - plain));
    if (t > tau && t < end) {
      const double expected = plain * (1 - rate * decay * (t - tau));
      worst_after = std::max(worst_after, std::abs(head.speed - expected));
      told_apart = std::max(told_apart, std::abs(expected - plain));
    }
  }
  EXPECT_LT(worst_before, 2e-3 * speed);
  EXPECT_LT(worst_after, 3e-3 * speed);
  EXPECT_GT(told_apart, 0.3 * speed);
  EXPECT_NEAR(contact_time, end, 3e-6);
  EXPECT_NEAR(head.speed, -speed * std::exp(-(1 + 1 / decay)), 1e-3 * speed);
}

// The near end is not heard before its echo can be back, 2 alpha L / c, and is then: beside strings
// four times as long, otherwise the same.
TEST(Strings, bring_the_echo_after_twice_the_way_to_the_near_end) {
  StruckNote c4 = known_notes[1];
  c4.unison.strike_ratio = 0.125;
  Unison longer = c4.unison;
  longer.length *= 4;
  longer.mass *= 4;
  const double speed = std::sqrt(c4.unison.tension * c4.unison.length / c4.unison.mass);
  const double echo = 2 * c4.unison.strike_ratio * c4.unison.length / speed;
  constexpr double step = 1e-6;
  const double grid = echo / 1000 * (1 + 1e-9);  // the same for both
  StruckUnison near(c4.unison, c4.felt, grid);
  StruckUnison far(longer, c4.felt, grid);
  ASSERT_NEAR(near.grid(), far.grid(), 1e-18);
  Head one{8.9e-3, 0, 2};
  Head other = one;
  double heard = 0;
  for (int i = 1; i <= 1000 && heard == 0; ++i) {
    step_head(near, one, step);
    step_head(far, other, step);
    if (std::abs(one.speed - other.speed) > 1e-12) heard = i * step;
  }
  EXPECT_GT(heard, echo);
  EXPECT_LT(heard, echo + 3e-6);
}

// Power-law impact on a wall: greatest compression ((p+1) m v^2 / 2K)^(1/(p+1)), contact time
// 2 sqrt(pi) Gamma(1 + 1/(p+1)) / Gamma(1/2 + 1/(p+1)) times that over v; p = 3/2 is Hertz's, with
// 2.943 (Landau & Lifshitz, Theory of Elasticity, sec. 9: 2.94); p = 1 gives pi sqrt(m/K).
TEST(Strings, too_heavy_to_move_are_a_wall_for_power_law_impact) {
  struct Case {
    double exponent, stiffness;
  };
  for (const auto& [p, stiffness] :
       {Case{1, 1e5}, Case{1.5, 5e6}, Case{2.5, 1e10}, Case{3, 1e12}}) {
    SCOPED_TRACE(p);
    constexpr double speed = 2;
    const double depth = std::pow((p + 1) * mass * speed * speed / (2 * stiffness), 1 / (p + 1));
    const double factor = 2 * std::sqrt(std::numbers::pi) * std::tgamma(1 + 1 / (p + 1)) /
                          std::tgamma(0.5 + 1 / (p + 1));
    if (p == 1.5) {
      EXPECT_NEAR(factor, 2.94, 0.005);
    }
    StruckUnison strings(wall, {stiffness, p}, 0.5e-6);
    const Blow blow = strike(strings, mass, speed, 50e-6);
    EXPECT_NEAR(blow.contact_time, factor * depth / speed, 2e-6);
    EXPECT_NEAR(blow.peak_force, stiffness * std::pow(depth, p), 4e-4 * blow.peak_force);
    EXPECT_NEAR(blow.rebound, speed, 5e-4 * speed);
  }
}

// Pressed from rest against a linear spring a mass swings about its static place: the force peaks
// at twice the load after pi sqrt(m/k), where the mass stands still. Elementary.
TEST(Strings, feel_twice_a_load_put_on_at_once) {
  constexpr double stiffness = 1e4;
  constexpr double load = 300;  // m/s^2
  const double half = std::numbers::pi * std::sqrt(mass / stiffness);
  constexpr int steps = 50;
  const double step = half / steps;
  StruckUnison strings(wall, {stiffness, 1}, 10e-6);
  double height = 0;
  double speed = 0;
  double peak = 0;
  for (int i = 0; i < steps; ++i) {
    const Impulse got = strings.advance(step, height, speed, load, mass);
    height += speed * step + 0.5 * load * step * step - got.crown_shift;
    speed += load * step - got.impulse / mass;
    peak = std::max(peak, got.peak_force);
  }
  EXPECT_NEAR(peak, 2 * mass * load, 1e-4 * peak);
  EXPECT_NEAR(height, 2 * mass * load / stiffness, 1e-4 * height);
  EXPECT_NEAR(speed, 0, 3e-3 * load * half);
}

// Linear felt with recovery time is a spring and a dashpot that only push:
// T. Schwager & T. Poschel, Granular Matter 9 (2007) 465: with b = k tau / 2m, w^2 = k/m - b^2,
// contact ends at (pi - atan(2 b w / (w^2 - b^2))) / w; speed from the damped oscillation.
TEST(Strings, with_lossy_linear_felt_are_a_damped_impact) {
  constexpr double stiffness = 1e5;
  constexpr double recovery = 60e-6;
  constexpr double speed = 2;
  const double b = stiffness * recovery / (2 * mass);
  const double w = std::sqrt(stiffness / mass - b * b);
  const double end = (std::numbers::pi - std::atan(2 * b * w / (w * w - b * b))) / w;
  const double rebound =
      -speed * std::exp(-b * end) * (std::cos(w * end) - b / w * std::sin(w * end));
  StruckUnison strings(wall, {stiffness, 1, recovery}, 0.5e-6);
  const Blow blow = strike(strings, mass, speed, 50e-6);
  EXPECT_LT(rebound, 0.9 * speed);
  EXPECT_NEAR(blow.contact_time, end, 2e-6);
  EXPECT_NEAR(blow.rebound, rebound, 2e-4 * speed);
}

}  // namespace
}  // namespace batten::tests

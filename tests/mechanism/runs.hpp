// Driving a mechanism through time, for tests.
#pragma once

#include "core/mechanism/energy.hpp"
#include "core/mechanism/reference.hpp"

#include <cassert>
#include <cmath>
#include <cstdio>
#include <string>
#include <utility>

namespace batten::tests {

inline constexpr double pi = 3.14159265358979323846;

// For RecordProperty: a figure to three digits.
inline std::string figure(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.2e", value);
  return text;
}

// A model with its state and scratch.
struct Trial {
  mechanism::Description description;
  mechanism::Model<double> model;
  mechanism::Motion<double> motion{};
  mechanism::Forces<double> forces;
  mechanism::EvaluateOptions options;
  double extra[mechanism::max_coordinates] = {};
  double time = 0;

  explicit Trial(mechanism::Description d) : description(std::move(d)) {
    assert(mechanism::check(description));
    model = mechanism::make_model(description);
    mechanism::prepare(model, forces);
  }
  double& q(int i) { return motion.q[i]; }
  double& v(int i) { return motion.v[i]; }
  void evaluate() { mechanism::evaluate(model, motion, options, forces); }
  // Fourth order.
  void exactly(double h) {
    mechanism::advance_runge_kutta(model, extra, h, options, forces, motion);
    time += h;
  }
  // The step that is used.
  void step(double h, const mechanism::Drive<double>& drive = {}) {
    evaluate();
    mechanism::advance(model, forces, extra, h, drive, motion);
    time += h;
  }
  double energy() const { return mechanism::calc_energy(model, motion, options).total(); }
};

// Steps exactly until `value` of the trial changes sign, then closes in on the zero; the time of
// it.
template <class Value>
double time_of_zero(Trial& trial, double h, double latest, const Value& value) {
  const bool negative = value(trial) < 0;
  Trial before = trial;
  while (trial.time < latest) {
    before = trial;
    trial.exactly(h);
    if ((value(trial) < 0) == negative) continue;
    double low = 0, high = h;
    for (int k = 0; k < 60; ++k) {
      const double middle = 0.5 * (low + high);
      trial = before;
      trial.exactly(middle);
      ((value(trial) < 0) == negative ? low : high) = middle;
    }
    return before.time + 0.5 * (low + high);
  }
  return std::nan("");
}

inline mechanism::Body pinned(std::string name, int parent, mechanism::Point at, double mass,
                              mechanism::Point centre, double inertia) {
  return {std::move(name), parent, mechanism::JointKind::pin, at, {}, mass, centre, inertia};
}
inline mechanism::Body sliding(std::string name, int parent, mechanism::Point at,
                               mechanism::Point direction, double mass) {
  return {std::move(name), parent, mechanism::JointKind::slide, at, direction, mass, {}, 0};
}
// A disc of `round_body` on a line of `solid_body`.
inline mechanism::Contact disc_on_line(int round_body, mechanism::Point centre, double radius,
                                       int solid_body, mechanism::Point point,
                                       mechanism::Point normal, const mechanism::ContactLaw& law) {
  mechanism::Contact c;
  c.name = "disc on line";
  c.round_body = round_body;
  c.arc = {centre, radius, 0, 0};
  c.solid_body = solid_body;
  c.line = {point, normal};
  c.law = law;
  return c;
}

}  // namespace batten::tests

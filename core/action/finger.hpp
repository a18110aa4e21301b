// What the finger does over time: pressing, striking, following a path, letting go.
#pragma once

#include "core/action/strokes.hpp"

namespace batten::action::detail {

// The finger of a stroke as a force on its slide, or as a prescribed path.
struct FingerRun {
  const Finger* plan = nullptr;
  double mass = 0.05;  // kg
  double gravity = 9.80665;
  double start_speed = 0;  // m/s downward
  double release_to = 0, release_speed = 0.3, again_at = 0;

  bool positioned() const { return plan->way == Finger::Way::position; }
  // s from the start during which the push is too weak to move anything: a run may begin after it.
  double quiet() const;
  // Mean force over the step that begins at `time`, N, upward positive; finger at `q` (m), moving
  // at `v`; `at_bottom`: the front punching is pressed.
  double force(double time, double step, double q, double v, bool at_bottom);
  // Speed that brings the finger to where the path wants it at the end of the step.
  double drive(double time, double step, double q, double rest_key) const;

 private:
  double muscle(double since) const;
  double push(double middle, bool at_bottom);
  double push_start_ = 0, bottom_time_ = -1, bottom_push_ = 0;
  double lift_start_ = 0, lift_from_ = 0;
  bool lifting_ = false;
};

double finger_mass(const Finger& plan);  // kg
mechanism::ContactLaw fingertip(const Finger& plan);
FingerRun start_finger(const Finger& plan, const StrokeOptions& options);

}  // namespace batten::action::detail

#include "core/action/posture.hpp"

#include <cmath>

namespace batten::action {

namespace {

using mechanism::Description;
using mechanism::ground;
using mechanism::JointKind;
using mechanism::max_coordinates;
using mechanism::State;
using Model = mechanism::Model<double>;

Point plus(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
Point minus(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
Point rotated(double angle, Point a) {
  const double c = std::cos(angle), s = std::sin(angle);
  return {c * a.x - s * a.y, s * a.x + c * a.y};
}

double angle_of(const Description& d, const State& at, int body) {
  if (body == ground || d.bodies[static_cast<std::size_t>(body)].joint == JointKind::slide)
    return 0;
  return at.q[body];
}

// Where the body's own frame has its origin. A frame's axes are the world's in the described
// posture, turned by the body's angle since.
Point origin(const Description& d, const State& at, int body) {
  if (body == ground) return {0, 0};
  const mechanism::Body& b = d.bodies[static_cast<std::size_t>(body)];
  const Point place = plus(origin(d, at, b.parent), rotated(angle_of(d, at, b.parent), b.at));
  if (b.joint == JointKind::pin) return place;
  return plus(place, {at.q[body] * b.direction.x, at.q[body] * b.direction.y});
}

// A note put together, and the model that moves it.
struct Bench {
  Posture posture;
  Model model;
};

Result<Bench> set_up(const Note& note) {
  if (auto ok = check(note.dimensions); !ok) return tl::unexpected(ok.error());
  auto layout = lay_out(note.dimensions, note.adjustments);
  if (!layout) return tl::unexpected(layout.error());
  auto description = assemble(note.dimensions, note.adjustments);
  if (!description) return tl::unexpected(description.error());
  Bench bench;
  bench.posture.note = note;
  bench.posture.layout = *layout;
  bench.model = mechanism::make_model(*description);
  bench.posture.description = std::move(*description);
  return bench;
}

void take(const Model& model, const Pressing<double>& at, Posture& out) {
  mechanism::Forces<double> forces;
  mechanism::prepare(model, forces);
  mechanism::evaluate(model, at.motion, {}, forces);
  for (int i = 0; i < model.count; ++i) {
    out.state.q[i] = at.motion.q[i];
    out.state.v[i] = at.motion.v[i];
  }
  for (std::size_t c = 0; c < forces.contacts.size(); ++c)
    out.pressed[c] = forces.contacts[c].force;
  out.depth = at.rest_key - mechanism::watch(model, key_point, at.motion).y;
  out.below = out.layout.string_height - mechanism::watch(model, crown_point, at.motion).y;
  out.force = out.pressed[finger_key];
}

}  // namespace

Point moved(const Posture& posture, int part, Point point) {
  const State rest{};
  return plus(
      origin(posture.description, posture.state, part),
      rotated(turned(posture, part), minus(point, origin(posture.description, rest, part))));
}

double turned(const Posture& posture, int part) {
  return angle_of(posture.description, posture.state, part);
}

Result<Posture> posture_at(const Note& note, double depth) {
  constexpr double deepest = 0.020;
  if (!(depth >= 0 && depth <= deepest))
    return problem("A key cannot be pressed so deep.", "Give a depth from 0 to 20 mm.");
  auto bench = set_up(note);
  if (!bench) return tl::unexpected(bench.error());
  auto pressing = settle(bench->model);
  if (depth > 0) {
    SweepOptions options;
    // The press ends one step after it has come this deep.
    options.coarse = options.fine;
    options.deepest = depth > options.fine ? depth - options.fine / 2 : depth;
    std::vector<SweepPoint> trace[1];
    if (press(bench->model, pressing, options, false, trace) != 0)
      return problem("The slow press of this note came to no end.",
                     "Check its dimensions and adjustments.");
  }
  take(bench->model, pressing, bench->posture);
  return std::move(bench->posture);
}

Result<Posture> posture_after_blow(const Note& note) {
  auto bench = set_up(note);
  if (!bench) return tl::unexpected(bench.error());
  const Model& model = bench->model;
  auto pressing = settle(model);
  mechanism::EvaluateOptions options;
  options.soft_friction_slope = true;
  mechanism::Forces<double> forces;
  mechanism::prepare(model, forces);
  const double none[max_coordinates] = {};
  // A middling blow, then the finger eases to what a hand holds with (estimates); it need only be
  // firm enough for the check to hold.
  constexpr double speed = 0.4, bottom_force = 30, ease_speed = 0.02, hold_force = 3;
  constexpr double held_for = 0.4;
  double held = 0;
  for (int step = 0; step < 40000 && held < held_for; ++step) {
    mechanism::evaluate(model, pressing.motion, options, forces);
    const double h = mechanism::limited_step(forces, 25e-6, 20e-6, 200e-6, 1e-3);
    const double force = forces.contacts[finger_key].force;
    if (force > bottom_force || held > 0) held += h;
    const double up = held > held_for / 2 && force > hold_force ? ease_speed : 0;
    mechanism::advance(model, forces, none, h,
                       mechanism::Drive<double>{finger, held > 0 ? up : -speed}, pressing.motion);
  }
  for (int i = 0; i < model.count; ++i)
    if (!std::isfinite(pressing.motion.q[i]))
      return problem("The blow on this note could not be followed.",
                     "Check its dimensions and adjustments.");
  take(model, pressing, bench->posture);
  return std::move(bench->posture);
}

Result<Posture> lay_posture(const Note& note) {
  auto bench = set_up(note);
  if (!bench) return tl::unexpected(bench.error());
  return std::move(bench->posture);
}

void take_row(Posture& posture, const SweepPoint& row) {
  for (int i = 0; i < part_count; ++i) posture.state.q[i] = row.q[i];
  posture.depth = row.depth;
  posture.below = row.below;
  posture.force = row.force;
}

}  // namespace batten::action

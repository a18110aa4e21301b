// Strokes: what must hold of any, whatever its numbers.
#include "core/action/strokes.hpp"

#include "checks.hpp"
#include "stroke_scan.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace batten::action {
namespace {

const Note& note_named(const char* name) {
  for (const auto& r : checks::registers())
    if (r.name == name) return r.note.note;
  ADD_FAILURE() << "no " << name;
  return checks::registers().front().note.note;
}

StrokeOptions fine() {
  StrokeOptions o;
  o.travel = 1e-6;
  o.shortest = 1e-6;
  o.longest = 4e-6;
  o.contact_step = 4e-6;
  return o;
}

// Eight lanes and one go through the same operations in the same order.
TEST(Strokes, SideBySideAreTheSameToTheLastBit) {
  std::vector<Note> notes;
  for (const auto& r : checks::registers()) notes.push_back(r.note.note);
  notes.resize(8);
  for (const Touch touch : {Touch::pressed, Touch::struck}) {
    const Finger finger = standard_finger(Effort::middling, touch);
    const auto together = calc_strokes(notes, std::span(&finger, 1));
    for (std::size_t k = 0; k < notes.size(); ++k) {
      const auto alone = calc_stroke(notes[k], finger);
      ASSERT_TRUE(alone && together[k]);
      EXPECT_EQ(alone->hammer_speed, together[k]->hammer_speed);
      EXPECT_EQ(alone->string, together[k]->string);
      EXPECT_EQ(alone->key_bottom, together[k]->key_bottom);
      EXPECT_EQ(alone->string_force, together[k]->string_force);
      EXPECT_EQ(alone->finger_work, together[k]->finger_work);
    }
  }
}

// Against steps fifty times finer: the error asked for is 1 % of the hammer's speed.
TEST(Strokes, StepsAreShortEnough) {
  const Note& note = note_named("medium C4");
  for (const Effort effort : {Effort::soft, Effort::middling, Effort::loud}) {
    const Finger finger = standard_finger(effort, Touch::pressed);
    StrokeOptions exact = fine();
    exact.to_string = true;
    StrokeOptions usual;
    usual.to_string = true;
    const auto a = calc_stroke(note, finger, usual), b = calc_stroke(note, finger, exact);
    ASSERT_TRUE(a && b);
    EXPECT_NEAR(a->hammer_speed / b->hammer_speed, 1, 0.01);
    EXPECT_NEAR(a->travel_time, b->travel_time, 0.3e-3);
  }
}

// Work in = stored + lost, the losses integrated apart: conservation of energy.
TEST(Strokes, EnergyIsAccountedFor) {
  StrokeOptions options = fine();
  options.to_string = true;
  options.book_energy = true;
  for (const Touch touch : {Touch::pressed, Touch::struck}) {
    const auto s =
        calc_stroke(note_named("medium C4"), standard_finger(Effort::middling, touch), options);
    ASSERT_TRUE(s);
    EXPECT_NEAR(s->balance / s->finger_work, 0, 0.004);
    EXPECT_GT(s->lost_energy, 0);
    // Kinetic energy of the hammer by its speed: head and shank as one body about their pin.
    EXPECT_GT(s->hammer_energy / s->finger_work, 0.3);
    EXPECT_LT(s->hammer_energy / s->finger_work, 0.9);
  }
}

// A model is proven by position, not by force (Thorin, Boutillon & Lozada 2014): driven along the
// path a force-driven stroke took, it must ask for that stroke's force.
TEST(Strokes, ThePathOfAStrokeAsksForItsForce) {
  const Note& note = note_named("medium C4");
  StrokeOptions options;
  options.keep_trace = true;
  options.trace_interval = 0;
  options.time = 0.25;
  Finger pressed;
  pressed.effort = 3;
  const auto by_force = calc_stroke(note, pressed, options);
  ASSERT_TRUE(by_force);
  Finger path;
  path.way = Finger::Way::position;
  path.interval = 0.5e-3;
  std::size_t k = 0;
  const auto& trace = by_force->trace;
  for (double t = 0; t < by_force->string; t += path.interval) {
    while (k + 1 < trace.size() && trace[k + 1].time < t) ++k;
    path.depths.push_back(t < trace[0].time ? 0 : trace[k].key_depth);
  }
  const auto by_path = calc_stroke(note, path, options);
  ASSERT_TRUE(by_path);
  EXPECT_NEAR(by_path->hammer_speed / by_force->hammer_speed, 1, 0.03);
  // Work is force over path: the mean force agrees.
  EXPECT_NEAR(by_path->finger_work / by_force->finger_work, 1, 0.03);
}

TEST(Strokes, RandomSettingsAndEffortsStayFinite) {
#ifdef __SANITIZE_ADDRESS__
  constexpr int blocks = 4;
#else
  constexpr int blocks = 50;  // of 40 notes with 10 fingers: 20,000 strokes
#endif
  std::mt19937 generator(20261125);
  std::uniform_real_distribution<double> unit(0, 1);
  const auto within = [&](double low, double high) { return low + (high - low) * unit(generator); };
  int finite = 0, all = 0;
  for (int block = 0; block < blocks; ++block) {
    std::vector<Note> notes;
    for (int k = 0; k < 40; ++k) {
      Note note = checks::registers()[generator() % checks::registers().size()].note.note;
      auto& a = note.adjustments;
      a.capstan += within(-1e-3, 1e-3);
      a.balance_punchings += within(-1e-3, 1e-3);
      a.front_punchings += within(-2e-3, 2e-3);
      a.jack_button += within(-1e-3, 1e-3);
      a.lever_button += within(-5e-4, 5e-4);
      a.spring += within(-0.5, 0.5);
      a.let_off_button += within(-1.5e-3, 1.5e-3);
      a.drop_screw += within(-2e-3, 2e-3);
      a.back_check += within(-2e-3, 2e-3);
      a.damper_wire += within(-2e-3, 2e-3);
      notes.push_back(note);
    }
    std::vector<Finger> fingers;
    for (int k = 0; k < 10; ++k) {
      Finger f;
      f.touch = unit(generator) < 0.5 ? Touch::pressed : Touch::struck;
      f.effort = f.touch == Touch::pressed ? std::exp(within(0, 6.2)) : std::exp(within(-4.5, 0.5));
      f.hold = within(0.02, 0.12);
      fingers.push_back(f);
    }
    StrokeOptions options;
    options.release_to = unit(generator) < 0.5 ? 0 : 3e-3;
    options.again_at = unit(generator) < 0.5 ? 0 : 0.12;
    const auto strokes = calc_strokes(notes, fingers, options);
    for (std::size_t k = 0; k < strokes.size(); ++k) {
      const auto& s = strokes[k];
      ++all;
      ASSERT_TRUE(s) << s.error().sentence();
      finite += s->finite && std::isfinite(s->hammer_speed) && std::isfinite(s->finger_force) &&
                std::isfinite(s->finger_work) && std::isfinite(s->hammer_energy) &&
                std::isfinite(s->string_force);
    }
  }
  EXPECT_EQ(finite, all);
}

TEST(Strokes, AFingerThatCannotBeIsRefused) {
  const Note& note = note_named("medium C4");
  Finger f;
  f.effort = -1;
  EXPECT_EQ(calc_stroke(note, f).error().happened, "The finger's effort is not a positive number.");
  Finger path;
  path.way = Finger::Way::position;
  EXPECT_EQ(calc_stroke(note, path).error().happened, "The key's path has no points.");
}

// A note that is never pressed far enough has no events, and says so.
TEST(Strokes, TooSoftAStrokeDoesNotReachTheString) {
  Finger f;
  f.effort = 0.7;
  const auto s = calc_stroke(note_named("medium C4"), f);
  ASSERT_TRUE(s);
  EXPECT_TRUE(std::isnan(s->string));
  EXPECT_TRUE(std::isnan(s->free_flight));
  EXPECT_EQ(s->hammer_speed, 0);
}

}  // namespace
}  // namespace batten::action

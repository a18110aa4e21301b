// What changes under the fingers: held to the mechanism asked directly, and to what must be so.
#include "core/regulation/touch/touch.hpp"

#include "core/action/prepare.hpp"
#include "core/action/strokes.hpp"
#include "profiles/profile_file.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten {
namespace {

const action::Profile& medium() {
  static const action::Profile profile = [] {
    for (const StoredProfile& p : stored_profiles())
      if (p.name == "medium")
        if (auto file = parse_profile(p.text, "medium")) return file->profile;
    return action::Profile{};
  }();
  return profile;
}

TouchTask task_at(Key key) {
  TouchTask task;
  task.key = key;
  task.target = note_of(medium(), key).wanted;
  return task;
}

// The same note prepared and struck by core/action itself.
TEST(Touch, IsWhatTheMechanismDoes) {
  const TouchTask task = task_at(Key{40});
  const auto touch = calc_touch(medium(), {task});
  ASSERT_TRUE(touch) << touch.error().sentence();
  const auto prepared = prepare_note(medium(), Key{40}, &task.target);
  ASSERT_TRUE(prepared);
  const auto loud =
      calc_stroke(prepared->note, standard_finger(action::Effort::loud, action::Touch::pressed));
  const auto middling = calc_stroke(
      prepared->note, standard_finger(action::Effort::middling, action::Touch::pressed));
  ASSERT_TRUE(loud && middling);
  EXPECT_NEAR(touch->front().power.after, loud->hammer_speed, 0.01 * loud->hammer_speed);
  EXPECT_NEAR(touch->front().time.after, middling->travel_time * 1e3,
              0.01 * middling->travel_time * 1e3);
}

TEST(Touch, NothingMovedNothingChanged) {
  const auto touch = calc_touch(medium(), {task_at(Key{13}), task_at(Key{40}), task_at(Key{76})});
  ASSERT_TRUE(touch);
  ASSERT_EQ(touch->size(), 3U);
  for (const Touch& t : *touch) {
    EXPECT_NEAR(t.power.before, t.power.after, 1e-6);
    EXPECT_NEAR(t.time.before, t.time.after, 1e-6);
    EXPECT_EQ(t.power.sd, 0);
    EXPECT_FALSE(t.unevenness.known());
    EXPECT_GT(t.repetition.after, 5);  // a grand repeats more than five times a second
    EXPECT_LT(t.repetition.after, 20);
  }
}

// A shorter way for the hammer takes less time at the same finger; the ± follows the readings'.
TEST(Touch, ShorterBlowAnswersSooner) {
  TouchTask task = task_at(Key{40});
  TouchAim& blow = task.aims[index_of(Aim::blow)];
  blow = {2.0, 0.0, 0.05, 0.05, 0.8, 0.1, 30};
  const auto touch = calc_touch(medium(), {task});
  ASSERT_TRUE(touch);
  const Touch& t = touch->front();
  EXPECT_LT(t.time.after, t.time.before);
  EXPECT_GT(t.power.before, t.power.after);
  EXPECT_GT(t.time.sd, 0);
  EXPECT_LT(t.time.sd, t.time.before - t.time.after);
  // Neighbours eight times as far apart differ eight times as much in power.
  EXPECT_NEAR(t.unevenness.before / t.unevenness.after, 8, 1e-6);
  // What cannot be played is not told: the key reaches its bottom before the hammer is let go.
  task.aims[index_of(Aim::dip)] = {-3, 0, 0.05, 0.05, 0, 0, 0};
  const auto shallow = calc_touch(medium(), {task});
  ASSERT_TRUE(shallow);
  EXPECT_FALSE(shallow->front().power.known());
}

}  // namespace
}  // namespace batten

// core/action/posture: the drawing's geometry against the solver's own gaps.
#include "core/action/posture.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten::action {
namespace {

// Adjustments near a regulated medium C4 (core/action/regulate finds them); any working ones would
// do here.
Note working() {
  Note note;
  note.adjustments.let_off_button = 0.0023;
  note.adjustments.drop_screw = 0.0024;
  note.adjustments.capstan = 0.0003;
  return note;
}

TEST(Posture, AtRestNothingIsPressedDown) {
  const auto p = posture_at(working(), 0);
  ASSERT_TRUE(p);
  EXPECT_EQ(p->depth, 0);
  EXPECT_EQ(p->force, 0);
  EXPECT_GT(p->pressed[back_rail], 0);
  EXPECT_EQ(p->pressed[front_rail], 0);
}

TEST(Posture, TheKeyIsAsDeepAsAsked) {
  // A step of the press is 20 um; the posture is half of one off at most.
  for (const double depth : {0.0005, 0.003, 0.006, 0.0085}) {
    const auto p = posture_at(working(), depth);
    ASSERT_TRUE(p);
    EXPECT_NEAR(p->depth, depth, 12e-6);
  }
}

TEST(Posture, ItStopsAtTheBottomUnderThreeHundredGrams) {
  const auto p = posture_at(working(), 0.020);
  ASSERT_TRUE(p);
  EXPECT_LT(p->depth, 0.012);
  // Up to a step further: on the hard bottom a step is about a newton.
  EXPECT_GE(p->force, 0.3 * 9.80665);
  EXPECT_LT(p->force, 0.3 * 9.80665 + 2);
  EXPECT_GT(p->pressed[front_rail], 1);
}

// The crown's distance from the string by the drawing's own chain of pins, against the mechanism's
// probe; the same for the key's front. Both are closed forms of the same angles.
TEST(Posture, PointsAreMovedAsTheSolverMovesThem) {
  for (const double depth : {0.0, 0.004, 0.009}) {
    const auto p = posture_at(working(), depth);
    ASSERT_TRUE(p);
    const Point crown = moved(*p, head, p->layout.crown);
    EXPECT_NEAR(p->layout.string_height - crown.y, p->below, 1e-12);
    const Point still = moved(*p, mechanism::ground, {0.1, 0.2});
    EXPECT_EQ(still, (Point{0.1, 0.2}));
    // A part keeps its shape: the knuckle stays as far from the hammer's pin.
    const Point pin = moved(*p, shank, p->layout.hammer_pin);
    const Point knuckle = moved(*p, shank, p->layout.knuckle);
    EXPECT_NEAR(std::hypot(knuckle.x - pin.x, knuckle.y - pin.y),
                std::hypot(p->note.dimensions.knuckle_x, p->note.dimensions.knuckle_y), 1e-12);
    // The wippen's pin is fixed, the jack's rides on the wippen.
    EXPECT_NEAR(moved(*p, wippen, p->layout.wippen_pin).y, p->layout.wippen_pin.y, 1e-12);
    const Point by_wippen = moved(*p, wippen, p->layout.jack_pin);
    const Point by_jack = moved(*p, jack, p->layout.jack_pin);
    EXPECT_NEAR(by_wippen.x, by_jack.x, 1e-12);
    EXPECT_NEAR(by_wippen.y, by_jack.y, 1e-12);
  }
}

// Where felts press, the drawn faces overlap by the depth of the felt, not more: the capstan's
// circle and the heel's line, by the law's inverse at the force found.
TEST(Posture, FacesThatPressMeet) {
  const auto p = posture_at(working(), 0.006);
  ASSERT_TRUE(p);
  const Point capstan = moved(*p, key_rear, p->layout.capstan);
  const Point heel = moved(*p, wippen, p->layout.heel);
  const double turn = turned(*p, wippen);
  const Point n{
      std::cos(turn) * p->layout.heel_normal.x - std::sin(turn) * p->layout.heel_normal.y,
      std::sin(turn) * p->layout.heel_normal.x + std::cos(turn) * p->layout.heel_normal.y};
  const double gap =
      (capstan.x - heel.x) * n.x + (capstan.y - heel.y) * n.y - p->note.dimensions.capstan_radius;
  const Dimensions& d = p->note.dimensions;
  const double depth =
      d.capstan_felt_depth *
      std::pow(p->pressed[capstan_heel] / d.capstan_felt_force, 1 / 2.5);  // exponent 5/2
  EXPECT_NEAR(-gap, depth, 2e-6);
}

TEST(Posture, AfterABlowTheCheckHolds) {
  const auto p = posture_after_blow(working());
  ASSERT_TRUE(p);
  EXPECT_GT(p->pressed[tail_check], 0.2);
  // Trade: caught 12 to 16 mm below the string; wider for adjustments that are only near.
  EXPECT_GT(p->below, 0.010);
  EXPECT_LT(p->below, 0.019);
  EXPECT_LT(p->force, 4);
}

TEST(Posture, DepthsNoKeyHasAreRefused) {
  EXPECT_FALSE(posture_at(working(), -0.001));
  EXPECT_FALSE(posture_at(working(), 0.021));
  EXPECT_FALSE(posture_at(working(), std::nan("")));
  Note bad = working();
  bad.dimensions.key_front = 1;
  EXPECT_FALSE(posture_at(bad, 0.001));
  EXPECT_FALSE(posture_after_blow(bad));
}

}  // namespace
}  // namespace batten::action

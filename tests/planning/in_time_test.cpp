// The minutes there are. Exactness of the choice itself is held to GLPK in exact_time_box_test.cpp.
#include "core/regulation/planning/in_time.hpp"

#include "tests/planning/linear_piano.hpp"

#include <gtest/gtest.h>

#include <numeric>

namespace batten {
namespace {

using testing::LinearPiano;

LinearPiano worn_piano() {
  LinearPiano piano(77);
  piano.prepare();
  piano.misset_all(2);
  piano.read_all(1);
  piano.read_all(1);
  return piano;
}

TEST(InTime, MoreMinutesLeaveLessUnevennessAndAreKept) {
  const LinearPiano piano = worn_piano();
  const Plan whole = piano.plan();
  double last = whole.unevenness + 1e-9;
  for (const double minutes : {30.0, 90.0, 150.0, 300.0}) {
    PlanOptions options;
    options.minutes = minutes;
    const Plan plan = piano.plan(options);
    EXPECT_LE(plan.minutes, minutes + 1e-6);
    EXPECT_LT(plan.unevenness_after, last) << minutes;
    EXPECT_FALSE(plan.left_for_time.empty());
    last = plan.unevenness_after;
  }
  PlanOptions plenty;
  plenty.minutes = 5000;
  EXPECT_NEAR(piano.plan(plenty).unevenness_after, whole.unevenness_after, 1e-9);
  EXPECT_TRUE(piano.plan(plenty).left_for_time.empty());
}

TEST(InTime, NoMinutesNoMoves) {
  PlanOptions options;
  options.minutes = 0;
  EXPECT_TRUE(worn_piano().plan(options).passes.empty());
}

TEST(InTime, NotesThatAreNotPlayedAreLeft) {
  LinearPiano piano = worn_piano();
  piano.set("play-weight", "0; 1; 1; 0");
  PlanOptions options;
  options.minutes = 120;
  for (const Pass& p : piano.plan(options).passes)
    for (const Instruction& i : p.steps) {
      EXPECT_GT(i.key, Key{21});
      EXPECT_LE(i.key, Key{63});
    }
}

TEST(InTime, WeightsAreReadAndRefused) {
  const std::vector<Section> sections{{Key{1}, Key{40}}, {Key{41}, Key{88}}};
  const auto weights = play_weights({}, sections, {{"play-weight", "1; 3"}});
  ASSERT_TRUE(weights);
  EXPECT_NEAR(std::accumulate(weights->begin(), weights->end(), 0.0), 88, 1e-9);
  EXPECT_NEAR(weights->back() / weights->front(), 3, 1e-12);
  EXPECT_FALSE(play_weights({}, sections, {{"play-weight", "1"}}));
  EXPECT_FALSE(play_weights({}, sections, {{"play-weight", "0; 0"}}));
  EXPECT_FALSE(play_weights({}, sections, {{"play-weight", "1; much"}}));
}

}  // namespace
}  // namespace batten

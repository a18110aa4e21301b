// What a plan must do on a piano that is as linear as it believes.
#include "tests/planning/linear_piano.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

using testing::LinearPiano;

const Instruction* find_turn(const Plan& plan, Key key, Adjuster adjuster) {
  for (const Pass& p : plan.passes)
    for (const Instruction& i : p.steps)
      if (i.kind == Instruction::Kind::turn && i.key == key && i.adjuster == adjuster) return &i;
  return nullptr;
}

int count_turns(const Plan& plan) {
  int n = 0;
  for (const Pass& p : plan.passes) n += p.moves;
  return n;
}

TEST(Plan, NothingIsAskedOfAPianoThatIsRight) {
  LinearPiano piano(1);
  piano.prepare();
  piano.read_all();
  piano.read_all();
  const Plan plan = piano.plan();
  EXPECT_EQ(count_turns(plan), 0);
  EXPECT_EQ(plan.next(), nullptr);
  EXPECT_LT(plan.unevenness, 0.1);
}

TEST(Plan, AnUnreadPianoIsReadFirst) {
  LinearPiano piano(2);
  piano.prepare();
  const Plan plan = piano.plan();
  EXPECT_EQ(count_turns(plan), 0);
  ASSERT_NE(plan.next(), nullptr);
  EXPECT_EQ(plan.next()->kind, Instruction::Kind::read);
}

TEST(Plan, OneLowHammerIsRaisedAndNothingElse) {
  LinearPiano piano(3);
  piano.prepare();
  piano.misset(Key{40}, Aim::blow, 1.0);
  // Its aftertouch goes with it.
  piano.misset(Key{40}, Aim::aftertouch, -0.2);
  piano.read_all();
  piano.read_all();
  const Plan plan = piano.plan();
  ASSERT_EQ(count_turns(plan), 1);
  const Instruction* turn = find_turn(plan, Key{40}, Adjuster::capstan);
  ASSERT_NE(turn, nullptr);
  EXPECT_GT(turn->amount, 0) << "raise";
  // 1 mm of blow at 0.9 mm a turn and some 10.5 mm of crown a millimetre.
  EXPECT_NEAR(turn->amount, 1.0 / (0.9 * 10.5), 1.0 / 64);
  EXPECT_NEAR(turn->at_the_end, turn->target, 0.12);
  EXPECT_TRUE(turn->read_after) << "the first moves teach";
}

TEST(Plan, AMoveOnRecordIsNotAskedForAgain) {
  LinearPiano piano(4);
  piano.prepare();
  piano.misset(Key{40}, Aim::blow, 1.0);
  piano.misset(Key{40}, Aim::aftertouch, -0.2);
  piano.read_all();
  piano.read_all();
  const Instruction* turn = nullptr;
  const Plan before = piano.plan();
  turn = find_turn(before, Key{40}, Adjuster::capstan);
  ASSERT_NE(turn, nullptr);
  piano.turn(Key{40}, Adjuster::capstan, turn->amount);
  const Plan after = piano.plan();
  EXPECT_EQ(find_turn(after, Key{40}, Adjuster::capstan), nullptr);
  ASSERT_NE(after.next(), nullptr) << "read what it did";
  EXPECT_EQ(after.next()->kind, Instruction::Kind::read);
  EXPECT_EQ(after.next()->key, Key{40});
  piano.read(Key{40}, Aim::blow);
  EXPECT_EQ(piano.plan().situation.responses.moves_seen(Adjuster::capstan, 1) +
                piano.plan().situation.responses.moves_seen(Adjuster::capstan, 2),
            1);
}

TEST(Plan, WhileTheGateIsShutOnlyReadingsAreAsked) {
  LinearPiano piano(5);
  piano.misset_all(3);
  piano.read_all();
  EXPECT_EQ(count_turns(piano.plan()), 0);
  piano.prepare();
  EXPECT_GT(count_turns(piano.plan()), 100);
}

TEST(Plan, ATurnTheWrongWayIsAskedAndStopsTheNote) {
  LinearPiano piano(6);
  piano.prepare();
  for (int k = 33; k <= 37; ++k) piano.misset(Key{k}, Aim::blow, 1.5);
  piano.read_all();
  for (int k = 33; k <= 34; ++k) {
    piano.turn(Key{k}, Adjuster::capstan, 0.12, -1);
    piano.read(Key{k}, Aim::blow);
    piano.read(Key{k}, Aim::blow);
  }
  const Plan plan = piano.plan();
  ASSERT_EQ(plan.situation.questions.size(), 2u);
  EXPECT_EQ(plan.situation.questions[0].kind, Question::Kind::wrong_way);
  for (int k = 33; k <= 37; ++k)
    EXPECT_EQ(find_turn(plan, Key{k}, Adjuster::capstan), nullptr) << k;
}

TEST(Plan, AMisreadIsAskedForAgainAndThenForgotten) {
  LinearPiano piano(7);
  piano.prepare();
  piano.read_all();
  piano.read_value(Key{30}, Reading::let_off, 6.0, 0.1);
  Plan plan = piano.plan();
  ASSERT_EQ(plan.situation.questions.size(), 1u);
  EXPECT_EQ(find_turn(plan, Key{30}, Adjuster::let_off_button), nullptr);
  bool asked = false;
  for (const Pass& p : plan.passes)
    for (const Instruction& i : p.steps)
      asked = asked || (i.kind == Instruction::Kind::read && i.key == Key{30} &&
                        i.reading == Reading::let_off);
  EXPECT_TRUE(asked);
  piano.read(Key{30}, Aim::let_off);
  plan = piano.plan();
  EXPECT_TRUE(plan.situation.questions.empty());
  EXPECT_EQ(find_turn(plan, Key{30}, Adjuster::let_off_button), nullptr);
}

TEST(Plan, TheLoopComesToAnEndInsideTheTolerances) {
  int outside = 0, asked = 0, moves = 0;
  for (std::uint64_t seed = 20; seed < 24; ++seed) {
    LinearPiano piano(seed);
    piano.prepare();
    piano.misset_all(1.5);
    int steps = 0;
    for (;; ++steps) {
      ASSERT_LT(steps, 400);
      const Plan plan = piano.plan();
      if (plan.passes.empty()) break;
      // A dozen at a time, as far as they are of one kind.
      const Pass& pass = plan.passes.front();
      int done = 0;
      for (const Instruction& i : pass.steps) {
        if (i.kind != pass.steps.front().kind || ++done > 24) break;
        moves += i.kind == Instruction::Kind::turn ? 1 : 0;
        piano.carry_out(i, 1);
      }
    }
    const Plan end = piano.plan();
    for (int k = 1; k <= 88; ++k)
      for (const Aim aim : {Aim::blow, Aim::dip, Aim::let_off, Aim::drop, Aim::check_distance,
                            Aim::jack_clearance}) {
        const auto t = *end.situation.catalogue.tolerance(reading_of(aim, Key{k}));
        const double off = piano.truth(Key{k}, aim) - *end.situation.targets.at(aim, Key{k});
        outside += std::abs(off) > t.absolute ? 1 : 0;
        ++asked;
      }
  }
  EXPECT_LT(double(outside) / asked, 0.01) << outside << " of " << asked;
  RecordProperty("outside", outside);
  RecordProperty("moves", moves);
}

}  // namespace
}  // namespace batten

// No step of a plan may take away what keeps a hammer from jamming. Limits: catalogue's cautions
// and checks R4, R6 (a hammer that cannot let go, or is carried on, blocks); the rest common
// practice, no source.
#include "core/regulation/planning/harm.hpp"

#include "tests/planning/linear_piano.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace batten {
namespace {

using testing::LinearPiano;

// What the note truly is after a step, and was before: a margin lost by the step.
bool lost(const LinearPiano& piano, Key key, const std::array<double, 3>& before) {
  const std::array<double, 3> now{piano.truth(key, Aim::let_off), piano.truth(key, Aim::aftertouch),
                                  piano.truth(key, Aim::drop)};
  constexpr std::array least{0.2, 0.0, 0.0};
  for (std::size_t i = 0; i < now.size(); ++i)
    if (now[i] < least[i] && now[i] < before[i] - 0.05) return true;
  return false;
}

struct Count {
  int steps = 0, lost = 0;
};

Count carry_out_all(std::uint64_t seed, double misset, const PlanOptions& options) {
  LinearPiano piano(seed);
  piano.prepare();
  piano.misset_all(misset);
  Count count;
  for (int round = 0; round < 60; ++round) {
    const Plan plan = piano.plan(options);
    if (plan.passes.empty()) break;
    const Pass& pass = plan.passes.front();
    int done = 0;
    for (const Instruction& i : pass.steps) {
      if (i.kind != pass.steps.front().kind || ++done > 44) break;
      const std::array<double, 3> before{piano.truth(i.key, Aim::let_off),
                                         piano.truth(i.key, Aim::aftertouch),
                                         piano.truth(i.key, Aim::drop)};
      piano.carry_out(i, 1);
      if (i.kind != Instruction::Kind::turn) continue;
      ++count.steps;
      count.lost += lost(piano, i.key, before) ? 1 : 0;
    }
  }
  return count;
}

TEST(Harm, NoStepOfManyTakesAwayAMargin) {
  Count all;
  for (std::uint64_t seed = 300; seed < 306; ++seed) {
    // Four tolerances: let-offs near the string, no aftertouch, hammers that hardly fall.
    const Count one = carry_out_all(seed, 4, {});
    all.steps += one.steps;
    all.lost += one.lost;
  }
  EXPECT_GT(all.steps, 1000);
  EXPECT_EQ(all.lost, 0) << "of " << all.steps;
}

planning::NoteTask task_at(const Situation& s, const LinearPiano& piano, Key key) {
  return planning::make_task(s, piano.model(), s.at(key));
}

// R2: 1 mm of blow costs some 0.2 mm of aftertouch.
TEST(Harm, AHammerIsNotLoweredWhereTheAftertouchWouldGo) {
  LinearPiano piano(9);
  piano.prepare();
  piano.misset(Key{50}, Aim::aftertouch, -0.6);
  piano.read_all();
  const Situation s = *calc_situation({}, piano.standing(), piano.model());
  const planning::NoteTask task = task_at(s, piano, Key{50});
  AdjusterVector amounts = AdjusterVector::Zero();
  amounts(static_cast<Eigen::Index>(Adjuster::capstan)) = -0.25;
  const auto harm = planning::find_harm(task, amounts, common_order(), {});
  ASSERT_TRUE(harm);
  EXPECT_EQ(harm->reason, Hold::Reason::could_not_let_go);
  EXPECT_EQ(harm->by, Adjuster::capstan);
  EXPECT_FALSE(harm->by_ignorance);
  amounts *= -1;
  EXPECT_FALSE(planning::find_harm(task, amounts, common_order(), {}));
}

TEST(Harm, WhatWasNeverReadIsAskedForFirst) {
  LinearPiano piano(10);
  piano.prepare();
  for (int k = 1; k <= 88; ++k) piano.read(Key{k}, Aim::blow);
  const Situation s = *calc_situation({}, piano.standing(), piano.model());
  const planning::NoteTask task = task_at(s, piano, Key{50});
  AdjusterVector amounts = AdjusterVector::Zero();
  amounts(static_cast<Eigen::Index>(Adjuster::capstan)) = -0.25;
  const auto harm = planning::find_harm(task, amounts, common_order(), {});
  ASSERT_TRUE(harm);
  EXPECT_TRUE(harm->by_ignorance);
  EXPECT_EQ(harm->aim, Aim::aftertouch);
}

// Let-off made earlier eats the drop up: the drop screw goes first.
TEST(Harm, AnOrderIsFoundAlongWhichNothingIsLost) {
  LinearPiano piano(11);
  piano.prepare();
  piano.misset(Key{50}, Aim::let_off, -1.1);
  piano.misset(Key{50}, Aim::drop, -0.4);
  for (int i = 0; i < 3; ++i) piano.read_all();
  const Situation s = *calc_situation({}, piano.standing(), piano.model());
  const planning::NoteTask task = task_at(s, piano, Key{50});
  AdjusterVector amounts = AdjusterVector::Zero();
  amounts(static_cast<Eigen::Index>(Adjuster::let_off_button)) = 0.27;
  amounts(static_cast<Eigen::Index>(Adjuster::drop_screw)) = 0.32;
  EXPECT_TRUE(planning::find_harm(task, amounts, common_order(), {}));
  const auto order = planning::safe_order(task, amounts, common_order(), {});
  ASSERT_TRUE(order);
  const auto place = [&](Adjuster a) { return std::find(order->begin(), order->end(), a); };
  EXPECT_LT(place(Adjuster::drop_screw), place(Adjuster::let_off_button));
  EXPECT_FALSE(planning::find_harm(task, amounts, *order, {}));
}

TEST(Harm, ALimitIsNotPassed) {
  LinearPiano piano(12);
  piano.prepare();
  piano.set("capstan-limit", "0.1");
  piano.misset(Key{40}, Aim::blow, 3);
  for (int i = 0; i < 2; ++i) piano.read_all();
  const Plan plan = piano.plan();
  for (const Pass& p : plan.passes)
    for (const Instruction& i : p.steps)
      if (i.kind == Instruction::Kind::turn && i.adjuster == Adjuster::capstan) {
        EXPECT_LE(std::abs(i.amount), 0.1 + 1e-9);
      }
}

}  // namespace
}  // namespace batten

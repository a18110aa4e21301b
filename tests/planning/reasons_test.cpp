// Reasons as facts, and the time curve against plans made for its minutes.
#include "core/regulation/planning/reasons.hpp"

#include "core/regulation/planning/in_time.hpp"
#include "core/regulation/planning/words.hpp"
#include "tests/planning/linear_piano.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

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

const Instruction& first_turn(const Plan& plan) {
  for (const Pass& pass : plan.passes)
    for (const Instruction& step : pass.steps)
      if (step.kind == Instruction::Kind::turn) return step;
  throw std::logic_error("the worn piano has no move");
}

template <class Fact>
const Fact* find(const std::vector<Reason>& reasons) {
  for (const Reason& r : reasons)
    if (const auto* fact = std::get_if<Fact>(&r)) return fact;
  return nullptr;
}

// The chance of a Gaussian outside ±t, from the C library's erfc: ½ erfc((t ∓ off) / (√2 sd)) each.
TEST(Reasons, WhatIsOffHasItsChanceFromTheGaussian) {
  const LinearPiano piano = worn_piano();
  const Plan plan = piano.plan();
  const Instruction& step = first_turn(plan);
  const auto reasons = reasons_for(plan, piano.model(), step);
  const auto* off = find<WhatIsOff>(reasons);
  ASSERT_NE(off, nullptr);
  const StandsAt& s = off->stands;
  EXPECT_DOUBLE_EQ(s.value, step.before);
  EXPECT_DOUBLE_EQ(s.target, step.target);
  const double d = s.value - s.target, w = std::numbers::sqrt2 * s.sd;
  EXPECT_NEAR(s.chance, 0.5 * (std::erfc((s.tolerance - d) / w) + std::erfc((s.tolerance + d) / w)),
              1e-9);
  EXPECT_GT(s.readings, 0);
  EXPECT_TRUE(s.read);
}

TEST(Reasons, EveryTurnIsGivenItsPurposeItsPlaceAndWhatComesAfter) {
  const LinearPiano piano = worn_piano();
  const Plan plan = piano.plan();
  for (const Pass& pass : plan.passes)
    for (const Instruction& step : pass.steps) {
      const auto reasons = reasons_for(plan, piano.model(), step);
      if (step.kind == Instruction::Kind::read) {
        ASSERT_NE(find<WhyRead>(reasons), nullptr);
        EXPECT_EQ(find<HowToRead>(reasons)->reading, step.reading);
        continue;
      }
      EXPECT_EQ(find<Purpose>(reasons)->adjuster, step.adjuster);
      EXPECT_EQ(find<OrderPlace>(reasons)->adjuster, step.adjuster);
      EXPECT_EQ(find<Afterwards>(reasons)->read_again, step.read_after);
      EXPECT_EQ(find<AlsoMoves>(reasons)->effects.size(), step.effects.size());
    }
}

TEST(Reasons, EachFactHasACodeAndWordsOfItsOwn) {
  const std::vector<Reason> one_of_each{WhatIsOff{},  WhatIsKnown{}, GivesWay{},    Purpose{},
                                        TurnDoes{},   AlsoMoves{},   LaterPasses{}, OrderPlace{},
                                        Afterwards{}, WhyRead{},     HowToRead{},   WhyNothing{}};
  ASSERT_EQ(one_of_each.size(), std::variant_size_v<Reason>);
  std::vector<std::string> codes;
  for (const Reason& r : one_of_each) {
    codes.emplace_back(code_of(r));
    const Because words = reason_words(r, {});
    EXPECT_FALSE(words.heading.empty()) << codes.back();
    EXPECT_FALSE(words.text.empty()) << codes.back();
  }
  EXPECT_EQ(codes.front(), "off");
  EXPECT_EQ(codes.back(), "why-nothing");
  std::ranges::sort(codes);
  EXPECT_EQ(std::ranges::adjacent_find(codes), codes.end());
}

// A table made by hand: what is set first and shifted later.
TEST(Reasons, ThePlaceInTheOrderNamesWhatItSparesAndWhatDisturbsIt) {
  UndoneTable undone{};
  const auto a = index_of(Adjuster::capstan), b = index_of(Adjuster::front_punchings),
             c = index_of(Adjuster::damper_wire);
  undone[b][a] = 0.7;   // the capstan's moves shift the dip
  undone[a][c] = 0.2;   // the damper's shift the blow
  undone[c][b] = 0.01;  // not worth saying
  const OrderReport order = derive_order(undone);
  const OrderPlace place = place_in_order(order, Adjuster::capstan);
  ASSERT_TRUE(place.spares);
  EXPECT_EQ(place.spares->adjuster, Adjuster::front_punchings);
  EXPECT_DOUBLE_EQ(place.spares->by, 0.7);
  const auto at = [&](Adjuster x) { return std::ranges::find(order.derived, x); };
  EXPECT_EQ(place.disturbed.has_value(), at(Adjuster::damper_wire) > at(Adjuster::capstan));
  EXPECT_FALSE(place_in_order(order, Adjuster::front_punchings).spares);
}

TEST(Reasons, WhereNothingIsAskedTheCauseIsTold) {
  LinearPiano piano = worn_piano();
  const Plan shut = LinearPiano(77).plan();
  EXPECT_EQ(
      find<WhyNothing>(reasons_for_nothing(shut, piano.model(), Key{40}, Adjuster::capstan))->cause,
      WhyNothing::Cause::gate_shut);
  PlanOptions none;
  none.minutes = 0;
  const Plan later = piano.plan(none);
  ASSERT_FALSE(later.left_for_time.empty());
  const Instruction& left = later.left_for_time.front();
  EXPECT_EQ(
      find<WhyNothing>(reasons_for_nothing(later, piano.model(), left.key, left.adjuster))->cause,
      WhyNothing::Cause::no_time);
}

// A plan made for the minutes does at most what the curve promises, and nearly so.
TEST(TimeCurve, AgreesWithPlansMadeForItsMinutes) {
  const LinearPiano piano = worn_piano();
  const Plan whole = piano.plan();
  std::vector<double> minutes;
  for (int i = 0; i <= 8; ++i) minutes.push_back(whole.minutes * i / 8);
  const auto curve = calc_time_curve(whole, piano.model(), {}, minutes);
  ASSERT_TRUE(curve) << curve.error().sentence();
  ASSERT_EQ(curve->size(), minutes.size());
  EXPECT_NEAR(curve->front().unevenness, whole.unevenness, 1e-9);
  EXPECT_TRUE(curve->front().passes.empty());
  EXPECT_NEAR(curve->back().unevenness, whole.unevenness_after, 1e-9);
  EXPECT_EQ(curve->back().passes.size(), whole.passes.size());
  for (std::size_t i = 1; i < minutes.size(); ++i) {
    const TimePoint& p = (*curve)[i];
    EXPECT_LE(p.work, p.minutes + 1e-6);
    EXPECT_LE(p.unevenness, (*curve)[i - 1].unevenness + 0.05 * whole.unevenness);
    PlanOptions options;
    options.minutes = p.minutes;
    EXPECT_NEAR(piano.plan(options).unevenness_after, p.unevenness, 0.1 * whole.unevenness)
        << p.minutes;
  }
}

TEST(TimeCurve, RefusesMinutesThatDoNotRise) {
  const LinearPiano piano = worn_piano();
  EXPECT_FALSE(calc_time_curve(piano.plan(), piano.model(), {}, {60, 30}));
}

}  // namespace
}  // namespace batten

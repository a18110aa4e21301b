// Pauses and the index of repetitive handwork.
#include "core/regulation/planning/rest.hpp"

#include "workshop/chance.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <gmock/gmock.h>
#include <numeric>
#include <vector>

namespace batten {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// ISO 11228-3:2007, table 2: actual over reference technical actions, 30 a minute (published); 12 a
// minute for four hours is 2,880 over 7,200.
TEST(Rest, IndexIsActualOverReferenceActions) {
  EXPECT_NEAR(ocra_index(12, 1), 0.40, 1e-12);
  EXPECT_NEAR(ocra_index(12, 1), 2880.0 / 7200, 1e-12);
  EXPECT_NEAR(ocra_index(30, 1), 1, 1e-12);
  EXPECT_NEAR(ocra_index(12, 0.5), 0.80, 1e-12);
}

// 88 × 11 adjustments in four hours, three actions each: 12.1 a minute.
TEST(Rest, WholePianoInFourHoursIsFortyHundredths) {
  const auto plan = plan_rest({{88 * 11, 240, 0, 0}});
  ASSERT_TRUE(plan);
  EXPECT_NEAR(plan->index, 0.40, 0.005);
  EXPECT_EQ(plan->hand_class, HandClass::acceptable);
  // Three hours of it without recovery: 0.7 (from memory).
  EXPECT_NEAR(plan->index_without_pauses, plan->index / 0.7, 1e-12);
}

// Limits and multipliers from memory.
TEST(Rest, ClassesAndMultipliersAreThoseRemembered) {
  EXPECT_EQ(hand_class_of(2.2), HandClass::acceptable);
  EXPECT_EQ(hand_class_of(2.21), HandClass::borderline);
  EXPECT_EQ(hand_class_of(3.5), HandClass::borderline);
  EXPECT_EQ(hand_class_of(3.51), HandClass::high);
  const double light = plan_rest({{300, 250, 0, 0}})->index;
  EXPECT_NEAR(plan_rest({{300, 250, 1, 0}})->index, light / 0.85, 1e-12);
  EXPECT_NEAR(plan_rest({{300, 250, 2, 0}})->index, light / 0.65, 1e-12);
  EXPECT_NEAR(plan_rest({{300, 250, 3, 0}})->index, light / 0.35, 1e-12);
  // The same rate for less of a day.
  EXPECT_NEAR(plan_rest({{120, 100, 0, 0}})->index, light / 2, 1e-12);
  EXPECT_NEAR(plan_rest({{240, 200, 0, 0}})->index, light / 1.5, 1e-12);
  EXPECT_NEAR(plan_rest({{600, 500, 0, 0}})->index, light / 0.5, 1e-12);
  // Half of the minutes at 0.35.
  EXPECT_NEAR(plan_rest({{150, 125, 0, 0}, {150, 125, 3, 0}})->index, light / 0.675, 1e-12);
}

TEST(Rest, PausesComeAfterEachStretchOrWhereAPassEndsJustBefore) {
  const auto after = [](const RestPlan& plan) {
    std::vector<double> minutes;
    for (const Pause& p : plan.pauses) minutes.push_back(p.after);
    return minutes;
  };
  const auto one = plan_rest({{100, 120, 0, 0}});
  EXPECT_THAT(after(*one), ElementsAre(50, 100));
  EXPECT_DOUBLE_EQ(one->minutes, 140);
  EXPECT_THAT(after(*plan_rest({{100, 50, 0, 0}})), IsEmpty());
  const auto passes = plan_rest({{1, 20, 0, 0}, {1, 23, 0, 0}, {1, 30, 0, 0}, {1, 70, 0, 0}});
  EXPECT_THAT(after(*passes), ElementsAre(43, 93));
  EXPECT_EQ(passes->pauses[0].pass, 1U);
  EXPECT_EQ(passes->pauses[1].pass, 3U);
  // Of two ends in reach the later.
  EXPECT_THAT(after(*plan_rest({{1, 42, 0, 0}, {1, 6, 0, 0}, {1, 20, 0, 0}})), ElementsAre(48));
  // A pause too short to recover in is none.
  RestOptions options;
  options.pause = 5;
  const auto brief = plan_rest({{300, 240, 0, 0}}, options);
  EXPECT_DOUBLE_EQ(brief->index, brief->index_without_pauses);
}

int strain_side_by_side(const std::vector<PassLoad>& passes,
                        const std::vector<std::size_t>& order) {
  int sum = 0;
  for (std::size_t k = 1; k < order.size(); ++k)
    sum += passes[order[k - 1]].strain * passes[order[k]].strain;
  return sum;
}

bool keeps_to(const std::vector<PassLoad>& passes, const std::vector<std::size_t>& order) {
  std::uint32_t done = 0;
  for (const std::size_t i : order) {
    if ((passes[i].after & ~done) != 0) return false;
    done |= 1U << i;
  }
  return true;
}

// Against every permutation.
TEST(Rest, AlternatesAsWellAsPrecedenceAllows) {
  workshop::Chance chance(11);
  int moved = 0;
  for (int trial = 0; trial < 60; ++trial) {
    std::vector<PassLoad> passes;
    for (std::size_t i = 0; i < 7; ++i) {
      PassLoad pass{10, 10, chance.between(0, 3), 0};
      for (std::size_t k = 0; k < i; ++k) pass.after |= chance.between(0, 3) == 0 ? 1U << k : 0;
      passes.push_back(pass);
    }
    std::vector<std::size_t> order(passes.size()), best;
    std::iota(order.begin(), order.end(), 0U);
    const std::vector<std::size_t> given = order;
    int least = 1000;
    do {  // in lexical order, so that the first of the least is nearest to the order given
      if (!keeps_to(passes, order) || strain_side_by_side(passes, order) >= least) continue;
      least = strain_side_by_side(passes, order);
      best = order;
    } while (std::ranges::next_permutation(order).found);
    const auto plan = plan_rest(passes);
    ASSERT_TRUE(plan);
    EXPECT_EQ(plan->order, best) << trial;
    moved += best != given ? 1 : 0;
  }
  EXPECT_GT(moved, 20);
}

TEST(Rest, KeepsPrecedenceThroughPassesWithoutWorkAndForMany) {
  // The third comes after the empty one, which comes after the first; else it would go before it.
  const auto plan = plan_rest({{10, 10, 3, 0}, {0, 0, 0, 1}, {10, 10, 3, 2}, {10, 10, 0, 4}});
  EXPECT_THAT(plan->order, ElementsAre(0, 2, 3));
  EXPECT_FALSE(plan->alternates);
  std::vector<PassLoad> many;
  for (std::size_t i = 0; i < 20; ++i)
    many.push_back({1, 1, i < 10 ? 3 : 0, i == 10 ? 1U << 9 : 0});
  const auto long_plan = plan_rest(many);
  ASSERT_TRUE(long_plan);
  EXPECT_EQ(long_plan->order.size(), 20U);
  EXPECT_TRUE(keeps_to(many, long_plan->order));
  EXPECT_LT(strain_side_by_side(many, long_plan->order), 20);  // 81 as given
}

TEST(Rest, SaysWhatItIsNot) {
  const std::string words = print_rest(*plan_rest({{300, 240, 2, 0}, {300, 10, 2, 0}}));
  EXPECT_THAT(words, HasSubstr("no medical advice"));
  EXPECT_THAT(words, HasSubstr("pause 10\u202fmin after 50, 100, 150 and 200\u202fmin of work"));
  EXPECT_THAT(words, HasSubstr("follow each other"));
  EXPECT_THAT(print_rest(*plan_rest({})), HasSubstr("no pause is due"));
}

TEST(Rest, RefusesWhatIsNoWork) {
  const double nan = std::nan("");
  EXPECT_FALSE(plan_rest({{-1, 1, 0, 0}}));
  EXPECT_FALSE(plan_rest({{1, nan, 0, 0}}));
  EXPECT_FALSE(plan_rest({{1, 1, 4, 0}}));
  EXPECT_FALSE(plan_rest({{1, 1, 0, 1}}));  // after itself
  EXPECT_FALSE(plan_rest({{1, 1, 0, 2}, {1, 1, 0, 1}}));
  EXPECT_FALSE(plan_rest({{1, 1, 0, 4}}));
  EXPECT_FALSE(plan_rest({{1, 1441, 0, 0}}));
  EXPECT_FALSE(plan_rest({{1, 0, 0, 0}}));
  EXPECT_FALSE(plan_rest({{1, 1, 0, 0}}, {.stretch = 5}));
  EXPECT_FALSE(plan_rest(std::vector<PassLoad>(33)));
}

}  // namespace
}  // namespace batten

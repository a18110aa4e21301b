// Papers against exhaustive search, which is the outside source here: every combination is counted
// out by plain loops that share nothing with the code.
#include "core/regulation/planning/papers.hpp"

#include "workshop/chance.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

const std::vector<double> common_set{0.05, 0.08, 0.13, 0.25, 0.5, 1.0};  // mm, from memory

struct Least {
  int handled = 1000, off = 1000000, added = 1000;  // papers, micrometres, papers
  bool operator==(const Least&) const = default;
};

// All sums of up to `most` papers, each subset of those that lie there taken out.
Least by_exhaustion(const std::vector<int>& papers, const std::vector<int>& lying, int amount,
                    int within, int most) {
  Least least;
  for (unsigned subset = 0; subset < (1U << lying.size()); ++subset) {
    int taken = 0, count = 0;
    for (std::size_t i = 0; i < lying.size(); ++i) {
      if ((subset >> i & 1U) == 0) continue;
      taken += lying[i];
      ++count;
    }
    const auto add = [&](const auto& self, std::size_t paper, int sum, int added) -> void {
      const int off = std::abs(sum - taken - amount);
      if (off <= within) {
        const Least here{count + added, off, added};
        if (std::tie(here.handled, here.off, here.added) <
            std::tie(least.handled, least.off, least.added))
          least = here;
      }
      if (added == most || paper == papers.size()) return;
      for (std::size_t next = paper; next < papers.size(); ++next)
        self(self, next, sum + papers[next], added + 1);
    };
    add(add, 0, 0, 0);
  }
  return least;
}

std::vector<double> in_mm(const std::vector<int>& micrometres) {
  std::vector<double> mm;
  mm.reserve(micrometres.size());
  for (const int m : micrometres) mm.push_back(m / 1000.0);
  return mm;
}

Least found_by(const PaperTask& task) {
  const auto advice = choose_papers(task);
  if (!advice) return {};
  const PaperChange& best = advice->best;
  return {static_cast<int>(best.add.size() + best.take.size()),
          static_cast<int>(std::lround(std::fabs(best.off) * 1000)),
          static_cast<int>(best.add.size())};
}

std::vector<int> draw_set(workshop::Chance& chance, int most) {
  std::vector<int> set;
  for (int i = chance.between(1, most); i > 0; --i)
    set.push_back(10 * chance.between(4, 60) + chance.between(0, 1) * 3);
  return set;
}

TEST(Papers, AreTheFewestOfAllCombinationsForRandomSets) {
  workshop::Chance chance(101);
  for (int trial = 0; trial < 400; ++trial) {
    const std::vector<int> set = draw_set(chance, 5);
    const int finest = *std::ranges::min_element(set);
    const int amount = chance.between(0, 6 * finest);
    const auto expected = by_exhaustion(set, {}, amount, finest / 2, 7);
    ASSERT_LT(expected.handled, 1000);
    EXPECT_EQ(found_by({amount / 1000.0, in_mm(set)}), expected) << "trial " << trial;
  }
}

TEST(Papers, TakeAndAddTheFewestWhenTheStackIsKnown) {
  workshop::Chance chance(102);
  int exchanges = 0;
  for (int trial = 0; trial < 300; ++trial) {
    const std::vector<int> set = draw_set(chance, 4);
    std::vector<int> lying;
    for (int i = chance.between(0, 4); i > 0; --i)
      lying.push_back(
          set[static_cast<std::size_t>(chance.between(0, static_cast<int>(set.size()) - 1))]);
    int most = 0;
    for (const int paper : lying) most += paper;
    const int amount = chance.between(-most, 400);
    const int within = *std::ranges::min_element(set) / 2;
    const PaperTask task{amount / 1000.0, in_mm(set), in_mm(lying)};
    EXPECT_EQ(found_by(task), by_exhaustion(set, lying, amount, within, 12)) << "trial " << trial;
    if (const auto advice = choose_papers(task); advice)
      exchanges += !advice->best.add.empty() && !advice->best.take.empty() ? 1 : 0;
  }
  EXPECT_GT(exchanges, 20);  // else the harder half was never tried
}

TEST(Papers, KeepToAStatedTolerance) {
  workshop::Chance chance(103);
  int refused = 0;
  for (int trial = 0; trial < 300; ++trial) {
    const std::vector<int> set = draw_set(chance, 3);
    const int amount = chance.between(0, 900), within = chance.between(0, 6);
    const auto expected = by_exhaustion(set, {}, amount, within, 24);
    PaperTask task{amount / 1000.0, in_mm(set)};
    task.within = within / 1000.0;
    EXPECT_EQ(found_by(task), expected) << "trial " << trial;
    refused += expected.handled == 1000 ? 1 : 0;
  }
  EXPECT_GT(refused, 30);
  EXPECT_LT(refused, 270);
}

// Worked by hand.
TEST(Papers, AreNamedInWords) {
  EXPECT_EQ(print_papers(*choose_papers({0.33, common_set})), "add 0.25 + 0.08\u202fmm");
  EXPECT_EQ(print_papers(*choose_papers({0.02, common_set})), "leave the papers as they are");
  EXPECT_EQ(print_papers(*choose_papers({2.0, common_set})), "add 2 × 1.00\u202fmm");
  // 0.003 in
  EXPECT_EQ(print_papers(*choose_papers({0.076, {0.0762, 0.127}})), "add 0.076\u202fmm");
}

TEST(Papers, OfAnUnknownStackAreTakenOutOrChangedForThinnerOnes) {
  const auto advice = choose_papers({-0.25, common_set});
  ASSERT_TRUE(advice);
  EXPECT_THAT(advice->best.take, ElementsAre(0.25));
  EXPECT_THAT(advice->best.add, IsEmpty());
  EXPECT_DOUBLE_EQ(advice->best.change, -0.25);
  EXPECT_FALSE(advice->stack_known);
  ASSERT_FALSE(advice->swaps.empty());
  EXPECT_THAT(advice->swaps.front().take, ElementsAre(0.5));
  EXPECT_THAT(advice->swaps.front().add, ElementsAre(0.25));
  const auto between = choose_papers({-0.12, common_set});  // no other pair is within 0.025
  ASSERT_EQ(between->swaps.size(), 1U);
  EXPECT_THAT(between->swaps.front().take, ElementsAre(0.25));
  EXPECT_THAT(between->swaps.front().add, ElementsAre(0.13));
  EXPECT_EQ(print_papers(*advice),
            "take out 0.25\u202fmm, or change 0.50\u202fmm for 0.25\u202fmm");
}

TEST(Papers, ThatLieThereAreChangedRatherThanPiledUp) {
  // 0.08 out, 0.25 in: + 0.17; by adding alone 0.13 + 0.05 is as many but one more in the stack.
  const auto advice = choose_papers({0.17, common_set, std::vector<double>{0.08, 0.5}, 0.01});
  ASSERT_TRUE(advice);
  EXPECT_EQ(print_papers(*advice), "take out 0.08\u202fmm and add 0.25\u202fmm");
}

TEST(Papers, OffersOtherWaysOfTheSameWorth) {
  const auto advice = choose_papers({0.3, {0.1, 0.15, 0.2}});
  ASSERT_TRUE(advice);
  EXPECT_THAT(advice->best.add, ElementsAre(0.2, 0.1));  // the one with the thicker paper
  ASSERT_EQ(advice->others.size(), 1U);
  EXPECT_THAT(advice->others.front().add, ElementsAre(0.15, 0.15));
}

TEST(Papers, RefusesWhatItCannotAnswer) {
  const double nan = std::nan("");
  EXPECT_FALSE(choose_papers({0.3, {}}));
  EXPECT_FALSE(choose_papers({0.3, {0.1, -0.1}}));
  EXPECT_FALSE(choose_papers({0.3, {0.1, 0}}));
  EXPECT_FALSE(choose_papers({nan, {0.1}}));
  EXPECT_FALSE(choose_papers({21, {0.1}}));
  EXPECT_FALSE(choose_papers({0.3, {0.1}, std::vector<double>{nan}}));
  EXPECT_FALSE(choose_papers({0.3, {0.1}, std::vector<double>(15, 0.1)}));
  EXPECT_FALSE(choose_papers({0.3, {0.1}, std::nullopt, -0.1}));
  // More than lies there.
  const auto refused = choose_papers({-0.5, common_set, std::vector<double>{0.13}});
  ASSERT_FALSE(refused);
  EXPECT_THAT(refused.error().sentence(), HasSubstr("Nearest is 0.13\u202fmm less."));
}

}  // namespace
}  // namespace batten

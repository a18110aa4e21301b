// A day's choice against trying every choice there is.
#include "core/regulation/studio/day.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <set>

namespace batten {
namespace {

// The minutes of a set of pianos, whole ones, by the rule of the header.
std::size_t minutes_of(const std::vector<DayPiano>& pianos, unsigned set, const DayOptions& o) {
  std::set<std::string> been;
  std::size_t minutes = 0;
  for (std::size_t i = 0; i < pianos.size(); ++i) {
    if ((set >> i & 1U) == 0) continue;
    const bool beside = !pianos[i].place.empty() && !been.insert(pianos[i].place).second;
    minutes += static_cast<std::size_t>(std::ceil(pianos[i].minutes) +
                                        std::ceil(beside ? o.beside : o.to_a_place));
  }
  return minutes;
}

// Exhaustive search, the definition of the best choice (Kellerer, Pferschy, Pisinger, Knapsack
// Problems, 2004, section 1.1, with the way to a place as the cost of its first piano).
double best_worth(const std::vector<DayPiano>& pianos, const DayOptions& o) {
  double best = -1;
  for (unsigned set = 0; set < 1U << pianos.size(); ++set) {
    double worth = 0;
    bool fixed_there = true;
    for (std::size_t i = 0; i < pianos.size(); ++i) {
      if ((set >> i & 1U) != 0)
        worth += pianos[i].worth;
      else
        fixed_there = fixed_there && !pianos[i].fixed;
    }
    if (fixed_there && minutes_of(pianos, set, o) <= static_cast<std::size_t>(o.minutes))
      best = std::max(best, worth);
  }
  return best;
}

std::vector<DayPiano> some_pianos(std::mt19937_64& chance) {
  const auto below = [&](unsigned n) { return static_cast<unsigned>(chance() % n); };
  std::vector<DayPiano> pianos;
  const unsigned n = 1 + below(10);
  const char* places[] = {"", "school", "hall", "church"};
  for (unsigned i = 0; i < n; ++i)
    pianos.push_back(
        {20.0 + below(200), static_cast<double>(below(40)), below(8) == 0, places[below(4)]});
  return pianos;
}

TEST(Day, IsTheBestChoiceThereIs) {
  std::mt19937_64 chance(61);
  int impossible = 0, with_choice = 0;
  for (int round = 0; round < 400; ++round) {
    const auto pianos = some_pianos(chance);
    const DayOptions options{60.0 + static_cast<double>(chance() % 500), 25, 8};
    const double best = best_worth(pianos, options);
    const auto day = plan_day(pianos, options);
    if (best < 0) {
      EXPECT_FALSE(day);
      ++impossible;
      continue;
    }
    ASSERT_TRUE(day) << day.error().sentence();
    EXPECT_NEAR(day->worth, best, 1e-9) << "round " << round;
    EXPECT_LE(day->minutes, options.minutes);
    // What is said is what the stops add up to.
    unsigned set = 0;
    for (const DayStop& s : day->stops) set |= 1U << s.piano;
    EXPECT_EQ(static_cast<double>(minutes_of(pianos, set, options)), day->minutes);
    EXPECT_EQ(day->stops.size() + day->left_out.size(), pianos.size());
    with_choice += day->left_out.empty() ? 0 : 1;
  }
  EXPECT_GT(impossible, 5);
  EXPECT_GT(with_choice, 100);
}

// By hand: 60 min with 25 there leaves one of two; together at one place both fit.
TEST(Day, NeighboursSaveTheWay) {
  std::vector<DayPiano> pianos{{30, 5, false, ""}, {30, 4, false, ""}};
  const auto apart = plan_day(pianos, {100, 25, 8});
  ASSERT_TRUE(apart);
  EXPECT_EQ(apart->stops, (std::vector<DayStop>{{0, 25}}));
  EXPECT_EQ(apart->left_out, (std::vector<DayLeftOut>{{1, DayLeftOut::Why::less_worth}}));
  pianos[0].place = pianos[1].place = "school";
  const auto beside = plan_day(pianos, {100, 25, 8});
  ASSERT_TRUE(beside);
  EXPECT_EQ(beside->stops, (std::vector<DayStop>{{0, 25}, {1, 8}}));
  EXPECT_DOUBLE_EQ(beside->minutes, 93);
}

TEST(Day, BeginsWithWhatIsPromised) {
  const std::vector<DayPiano> pianos{{60, 30, false, ""},
                                     {60, 1, true, "hall"},
                                     {30, 40, false, "school"},
                                     {60, 3, false, "hall"}};
  const auto day = plan_day(pianos, {400, 20, 5});
  ASSERT_TRUE(day);
  std::vector<std::size_t> order;
  for (const DayStop& s : day->stops) order.push_back(s.piano);
  EXPECT_EQ(order, (std::vector<std::size_t>{1, 3, 2, 0}));
}

TEST(Day, SaysWhatCannotBe) {
  const std::vector<DayPiano> two{{200, 1, true, ""}, {200, 1, true, ""}};
  EXPECT_FALSE(plan_day(two, {300, 25, 8}));
  EXPECT_FALSE(plan_day(two, {0, 25, 8}));
  EXPECT_FALSE(plan_day(two, {1441, 25, 8}));
  const std::vector<DayPiano> one{{400, 9, false, ""}};
  const auto day = plan_day(one, {300, 25, 8});
  ASSERT_TRUE(day);
  EXPECT_TRUE(day->stops.empty());
  EXPECT_EQ(day->left_out, (std::vector<DayLeftOut>{{0, DayLeftOut::Why::too_long}}));
  EXPECT_TRUE(plan_day({}, {300, 25, 8})->stops.empty());
}

}  // namespace
}  // namespace batten

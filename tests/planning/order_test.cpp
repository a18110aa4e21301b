#include "core/regulation/planning/order.hpp"

#include "core/regulation/planning/words.hpp"
#include "workshop/chance.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

namespace batten {
namespace {

UndoneTable random_table(std::uint64_t seed, double zeros) {
  workshop::Chance chance(seed);
  UndoneTable t{};
  for (auto& row : t)
    for (double& v : row) v = chance.uniform() < zeros ? 0 : chance.uniform();
  for (std::size_t i = 0; i < note_adjuster_count; ++i) t[i][i] = 0;
  return t;
}

// All orders of a subset tried one after the other; the others come first, undisturbed.
double least_by_trying(const UndoneTable& undone) {
  std::vector<Adjuster> order = common_order();
  std::sort(order.begin(), order.end());
  double least = std::numeric_limits<double>::infinity();
  do least = std::min(least, rework(undone, order));
  while (std::next_permutation(order.begin(), order.end()));
  return least;
}

TEST(Order, IsTheBestOfAllOrders) {
  for (std::uint64_t seed = 1; seed <= 2; ++seed) {
    const UndoneTable t = random_table(seed, 0.5);
    EXPECT_NEAR(derive_order(t).rework_derived, least_by_trying(t), 0.05) << seed;
  }
}

TEST(Order, WithoutAnyDisturbanceItIsTheCommonOne) {
  EXPECT_EQ(derive_order({}).derived, common_order());
}

TEST(Order, OneDisturbancePutsTheDisturberFirst) {
  UndoneTable t{};
  // The check pads would move the blow.
  t[index_of(Adjuster::capstan)][index_of(Adjuster::back_check)] = 1;
  const OrderReport r = derive_order(t);
  const auto place = [&](Adjuster a) {
    return std::find(r.derived.begin(), r.derived.end(), a) - r.derived.begin();
  };
  EXPECT_LT(place(Adjuster::back_check), place(Adjuster::capstan));
  EXPECT_EQ(r.rework_derived, 0);
  EXPECT_EQ(r.rework_common, 1);
  EXPECT_NE(order_words(r, Adjuster::back_check).find("Before blow"), std::string::npos);
  // Nothing hangs on it: it must not be said to be common practice where it is moved.
  EXPECT_EQ(order_words(r, Adjuster::damper_wire).find("common practice"), std::string::npos);
}

}  // namespace
}  // namespace batten

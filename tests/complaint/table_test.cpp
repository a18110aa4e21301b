// What a fault does, by the table, against what the trade says of it. Rows R2, R5 and R6 are of
// docs/theory/action-checks.md: R2 trade arithmetic, R5 trade articles, R6 common practice, no
// source.
#include "core/regulation/complaint/faults.hpp"
#include "tests/complaint/fixture.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

namespace batten::trial {
namespace {

double effect(Cause cause, Look look) {
  return largest(c4(), cause).expected[at(look)] - c4().sound[at(look)];
}
double told_of(Cause cause, Complaint complaint) {
  return largest(c4(), cause).mention[at(complaint)];
}

TEST(Table, HoldsEveryCauseAndItsWeightsAreOne) {
  double sum = 0;
  std::array<int, cause_count> sizes{};
  for (const auto& e : c4().entries) {
    sum += e.weight;
    ++sizes[static_cast<std::size_t>(e.cause)];
    for (const double m : e.mention) {
      EXPECT_GT(m, 0);
      EXPECT_LT(m, 1);
    }
  }
  EXPECT_NEAR(sum, 1, 1e-12);
  for (std::size_t c = 0; c < listed_cause_count; ++c) EXPECT_EQ(sizes[c], 9) << c;
  EXPECT_EQ(sizes[static_cast<std::size_t>(Cause::no_fault)], 1);
}

// R2: aftertouch changes as dip does, and by -blow/R, R about 5 (mean local ratio 4.9 there).
TEST(Table, AftertouchFollowsTheTradesArithmetic) {
  EXPECT_NEAR(effect(Cause::front_punchings_short, Look::aftertouch),
              effect(Cause::front_punchings_short, Look::dip), 0.03);
  EXPECT_GT(effect(Cause::front_punchings_short, Look::dip), 0.7);
  const double blow = effect(Cause::capstan_low, Look::blow);
  EXPECT_GT(blow, 2);
  EXPECT_NEAR(effect(Cause::capstan_low, Look::aftertouch), -blow / 4.9, 0.18 * blow / 4.9);
  // Not moved by the capstan (R5).
  EXPECT_NEAR(effect(Cause::capstan_low, Look::let_off), 0, 0.05);
}

// R5: more aftertouch by a deeper key catches higher; a weak spring drops too far.
TEST(Table, SignsAreTheTrades) {
  EXPECT_LT(effect(Cause::front_punchings_short, Look::check_distance), -1);
  EXPECT_GT(effect(Cause::spring_weak, Look::drop), 0.2);
  EXPECT_LT(effect(Cause::spring_weak, Look::spring_rise), -1);
  EXPECT_GT(effect(Cause::hammer_centre_tight, Look::down_weight), 5);
  EXPECT_LT(effect(Cause::hammer_centre_tight, Look::up_weight), -5);
  // Lead moves both weights alike (T1: friction and balance weight apart).
  EXPECT_NEAR(effect(Cause::touch_heavy, Look::down_weight),
              effect(Cause::touch_heavy, Look::up_weight), 0.5);
}

// R6: a lever too low traps the jack, one too high leaves it lost motion. The rest: what each fault
// is known by, common practice, no source.
TEST(Table, FaultsAreFeltAsTheyAreKnown) {
  EXPECT_GT(told_of(Cause::lever_low, Complaint::does_not_repeat), 0.4);
  EXPECT_GT(told_of(Cause::lever_high, Complaint::dead_start), 0.4);
  EXPECT_GT(told_of(Cause::let_off_close, Complaint::jams), 0.4);
  EXPECT_GT(told_of(Cause::drop_small, Complaint::double_strikes), 0.25);
  EXPECT_GT(told_of(Cause::check_far, Complaint::bobbles), 0.4);
  EXPECT_GT(told_of(Cause::capstan_high, Complaint::weak), 0.4);
  EXPECT_GT(told_of(Cause::front_punchings_over, Complaint::hits_a_wall), 0.4);
  EXPECT_GT(told_of(Cause::front_punchings_short, Complaint::falls_through), 0.4);
  EXPECT_GT(told_of(Cause::damper_early, Complaint::rings_on), 0.4);
  EXPECT_LT(told_of(Cause::damper_early, Complaint::choked), 0.05);
  for (const double m : largest(c4(), Cause::no_fault).mention) EXPECT_LT(m, 0.01);
}

TEST(Table, KnowsWhichFaultsHoldTheHammer) {
  EXPECT_GT(largest(c4(), Cause::let_off_close).blocks, 0.5);
  EXPECT_GT(largest(c4(), Cause::drop_small).blocks, 0.5);
  EXPECT_EQ(largest(c4(), Cause::damper_late).blocks, 0);
  // A hammer held at the string has no drop to read, and is closer than it let off.
  EXPECT_TRUE(std::isnan(largest(c4(), Cause::let_off_close).expected[at(Look::drop)]));
  EXPECT_LT(largest(c4(), Cause::let_off_close).expected[at(Look::let_off)], 0.2);
}

TEST(Table, HasNoDamperWhereTheNoteHasNone) {
  const ComplaintTable top = make_table(Key{76});
  for (const auto& e : top.entries) {
    EXPECT_NE(e.cause, Cause::damper_early);
    EXPECT_NE(e.cause, Cause::damper_late);
  }
  EXPECT_TRUE(std::isnan(top.sound[at(Look::damper_start)]));
  const Complaint felt[] = {Complaint::too_heavy};
  const auto d = diagnose(top, felt, {});
  ASSERT_TRUE(d);
  EXPECT_EQ(d->ranked.size(), cause_count);
  for (const NextLook& n : d->next_figures) EXPECT_NE(n.look, Look::damper_start);
}

// Sizes: the smallest first, each cause's own; log-uniform, so the middle is the geometric mean.
TEST(Faults, SizesAreLogUniform) {
  for (std::size_t c = 0; c < listed_cause_count; ++c) {
    const auto cause = static_cast<Cause>(c);
    const auto sizes = complaint::sizes_of(cause);
    EXPECT_GT(sizes.low, 0) << c;
    EXPECT_GT(sizes.high, sizes.low) << c;
    EXPECT_NEAR(complaint::size_at(cause, 0.5), std::sqrt(sizes.low * sizes.high),
                1e-12 * sizes.high);
  }
}

}  // namespace
}  // namespace batten::trial

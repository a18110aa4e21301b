// The demo piano's advice against what nobody at the piano knows.
#include "tests/line/advice_count.hpp"
#include "tests/line/journal_page.hpp"
#include "workshop/demo.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

using namespace line_test;
using workshop::DemoTruth;

Line demo_line() {
  Page page;
  for (const auto& contents : workshop::demo_journal())
    for (const EntryContent& c : contents) page.write(c);
  return page.line();
}

TEST(DemoTruth, BothWrongReadingsAreFound) {
  const DemoTruth truth = workshop::demo_truth();
  const Line line = demo_line();
  ASSERT_EQ(truth.wrong.size(), 2U);
  for (Key wrong : truth.wrong)
    EXPECT_TRUE(std::ranges::any_of(line.findings, [&](const Finding& f) {
      return f.kind == Finding::Kind::reading_flagged && f.key == wrong && f.chance_wrong > 0.5;
    })) << note_name(wrong);
  for (Key low : truth.low_unisons)
    EXPECT_TRUE(std::ranges::any_of(line.findings, [&](const Finding& f) {
      return f.kind == Finding::Kind::unison_off_level && f.key == low;
    })) << note_name(low);
}

TEST(DemoTruth, DirectionsAreRight) {
  const DemoTruth truth = workshop::demo_truth();
  const Line line = demo_line();
  ASSERT_GT(line.order.size(), 30U);
  const AdviceCount count = count_advice(line, truth.targets, truth.hammers);
  EXPECT_GE(count.right, 0.95 * count.moves);
  EXPECT_EQ(count.wrong_beyond, 0) << "of " << count.moves << " moves";
  RecordProperty("moves", count.moves);
  RecordProperty("wrong_direction", count.wrong);
}

// Every advised turn made once, in order, with this piano's own rise per turn (8.4 mm against the
// 9 mm reckoned with) and 0.1 mm of hand error.
TEST(DemoTruth, FollowingTheAdviceEvensTheLine) {
  const DemoTruth truth = workshop::demo_truth();
  const Line line = demo_line();
  workshop::Chance hand(5);
  const Followed f =
      follow_by_turns(line, truth.targets, truth.hammers, truth.crown_per_turn, hand);
  RecordProperty("rms_before_um", static_cast<int>(1000 * f.before));
  RecordProperty("rms_after_um", static_cast<int>(1000 * f.after));
  EXPECT_GT(f.before, 0.6);
  EXPECT_LT(f.after, 0.25);  // the tolerance against neighbours, common practice
}

}  // namespace
}  // namespace batten

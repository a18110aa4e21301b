// Which readings count: the latest visit's, and of a hammer only those after its last move.
#include "core/regulation/line/gather.hpp"

#include "tests/line/journal_page.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten {
namespace {

using namespace line_test;

line::Readings gathered(const Page& page) { return line::gather(Compass{}, page.standing()); }

TEST(Gather, EachKindComesFromTheLatestVisitThatReadIt) {
  Page page;
  page.string("C4", 200).string("D4", 201).hammer("C4", 150);
  page.new_visit().string("C4", 202);
  const auto r = gathered(page);
  ASSERT_EQ(r.strings.size(), 1U);
  EXPECT_DOUBLE_EQ(mm(r.strings[0].height), 202);
  ASSERT_EQ(r.hammers.size(), 1U);
  EXPECT_DOUBLE_EQ(mm(r.hammers.at(key("C4")).value), 150);
}

TEST(Gather, AnUndoneReadingCountsForNothing) {
  Page page;
  page.hammer("C4", 150);
  page.hammer("C4", 199).undo_last();
  EXPECT_DOUBLE_EQ(mm(gathered(page).hammers.at(key("C4")).value), 150);
}

// GUM 5.1.2 for the mean of two independent readings of one uncertainty u: u / sqrt(2).
TEST(Gather, RepeatsAreAveraged) {
  Page page;
  page.hammer("C4", 150.0, 0.1).hammer("C4", 150.1, 0.1);
  const auto m = gathered(page).hammers.at(key("C4"));
  EXPECT_NEAR(mm(m.value), 150.05, 1e-9);
  EXPECT_NEAR(mm(m.sd), 0.1 / std::sqrt(2.0), 1e-9);
  EXPECT_FALSE(m.repeats_disagree);
}

// Two readings d apart with uncertainty u have a Birge ratio of d / (u sqrt(2)): at d = 0.5 and
// u = 0.1 it is 3.54, beyond three.
TEST(Gather, RepeatsThatDisagreeAreMarked) {
  Page page;
  page.hammer("C4", 150.0, 0.1).hammer("C4", 150.5, 0.1);
  page.hammer("D4", 150.0, 0.1).hammer("D4", 150.4, 0.1);  // 2.83
  const auto r = gathered(page);
  EXPECT_TRUE(r.hammers.at(key("C4")).repeats_disagree);
  EXPECT_FALSE(r.hammers.at(key("D4")).repeats_disagree);
}

TEST(Gather, AMovePutsEarlierReadingsOfThatHammerAside) {
  for (const Adjuster adjuster : {Adjuster::capstan, Adjuster::balance_punchings,
                                  Adjuster::lever_height_button, Adjuster::repetition_spring}) {
    Page page;
    page.hammer("C4", 150).hammer("D4", 150).blow("E4", 46).turned("C4", 0.1, adjuster);
    const auto before = gathered(page);
    EXPECT_FALSE(before.hammers.contains(key("C4")));
    EXPECT_TRUE(before.moved_since.contains(key("C4")));
    EXPECT_TRUE(before.hammers.contains(key("D4")));
    EXPECT_TRUE(before.blows.contains(key("E4")));

    page.hammer("C4", 151);
    const auto after = gathered(page);
    EXPECT_DOUBLE_EQ(mm(after.hammers.at(key("C4")).value), 151);
    EXPECT_FALSE(after.moved_since.contains(key("C4")));
  }
  Page page;
  page.hammer("C4", 150).turned("C4", 0.1, Adjuster::let_off_button);
  EXPECT_TRUE(gathered(page).hammers.contains(key("C4")));
}

// By place in the journal, not by clock: an undone move leaves the reading standing.
TEST(Gather, AnUndoneMoveBringsTheReadingBack) {
  Page page;
  page.hammer("C4", 150).turned("C4", 0.1).undo_last();
  EXPECT_TRUE(gathered(page).hammers.contains(key("C4")));
}

// A later visit has set the bench up anew.
TEST(Gather, TransfersOfAnEarlierVisitDoNotTieTheBench) {
  Page page;
  page.transfer("C4", 60).hammer("C4", 94);
  EXPECT_EQ(gathered(page).transfers.size(), 1U);
  page.new_visit().hammer("C4", 94);
  EXPECT_TRUE(gathered(page).transfers.empty());
  page.transfer("C4", 60.5);
  EXPECT_EQ(gathered(page).transfers.size(), 1U);
}

TEST(Gather, HammersReadOverAnotherDatumDoNotCount) {
  Page page;
  page.hammer("C4", 150).set("hammer-datum", "strings");  // the default, said aloud
  EXPECT_TRUE(gathered(page).hammers.contains(key("C4")));
  page.set("hammer-datum", "bench");
  EXPECT_FALSE(gathered(page).hammers.contains(key("C4")));
  page.hammer("C4", 90);
  EXPECT_DOUBLE_EQ(mm(gathered(page).hammers.at(key("C4")).value), 90);
}

// Two readings that agree outvote a slip before them; one alone cannot.
TEST(Gather, TwoMoreReadingsSettleRepeatsThatDisagree) {
  Page page;
  page.hammer("C4", 148).hammer("C4", 149);
  EXPECT_TRUE(gathered(page).hammers.at(key("C4")).repeats_disagree);
  page.hammer("C4", 148.02);
  EXPECT_TRUE(gathered(page).hammers.at(key("C4")).repeats_disagree);
  page.hammer("C4", 148);
  EXPECT_FALSE(gathered(page).hammers.at(key("C4")).repeats_disagree);
  EXPECT_NEAR(mm(gathered(page).hammers.at(key("C4")).value), 148.01, 1e-9);
}

TEST(Gather, ALevelledUnisonDropsWhatWasReadOfItsStrings) {
  Page page;
  page.string("C4", 199.7).read(Reading::unison_level, "C4", 0.3, 0.05);
  ASSERT_EQ(gathered(page).unisons.size(), 1U);
  EXPECT_DOUBLE_EQ(mm(gathered(page).unisons[0].spread), 0.3);
  page.turned("C4", 0.3, Adjuster::string_level);
  EXPECT_TRUE(gathered(page).unisons.empty());
  EXPECT_TRUE(gathered(page).strings.empty());
  page.string("C4", 200);
  EXPECT_EQ(gathered(page).strings.size(), 1U);
}

// GUM 5.1.2: the spread counts as one more independent contribution, hypot(0.1, 0.3).
TEST(Gather, AUnisonOffLevelWidensItsStringReading) {
  Page page;
  page.string("C4", 199.7, 0.1).read(Reading::unison_level, "C4", 0.3, 0.05);
  page.string("D4", 199.7, 0.1).read(Reading::unison_level, "D4", 0.1, 0.05);  // within tolerance
  const auto r = gathered(page);
  EXPECT_NEAR(mm(r.strings[0].uncertainty), std::sqrt(0.1 * 0.1 + 0.3 * 0.3), 1e-12);
  EXPECT_NEAR(mm(r.strings[1].uncertainty), 0.1, 1e-12);
}

TEST(Gather, NotesOutsideTheCompassAreLeftOut) {
  Page page;
  page.string("C0", 200).string("A0", 200);
  EXPECT_EQ(gathered(page).strings.size(), 1U);
}

}  // namespace
}  // namespace batten

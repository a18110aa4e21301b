// What is advised at one note.
#include "core/regulation/line/advise.hpp"
#include "core/regulation/line/aftertouch.hpp"
#include "tests/line/journal_page.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten {
namespace {

using namespace line_test;

double turns_of(const NoteLine& n) { return n.turns.in(turn); }

TEST(Advice, AHammerTooHighIsLoweredAndOneTooLowIsRaised) {
  Page page = level_page();
  page.hammer("C4", 155).aftertouch("C4", 2).hammer("D4", 153);
  const Line line = page.line();
  EXPECT_NEAR(mm(*at(line, "C4").deviation), 1, 0.02);  // 200 − 46 = 154 is wanted
  EXPECT_EQ(verdict_words(at(line, "C4")), "lower");
  EXPECT_LT(turns_of(at(line, "C4")), 0);
  EXPECT_LT(mm(at(line, "C4").crown_travel), 0);
  EXPECT_EQ(verdict_words(at(line, "D4")), "raise");
  EXPECT_NEAR(mm(at(line, "D4").crown_travel), 1, 0.02);
}

// A longer blow means a hammer too low (definition of blow; trade articles: raise the capstan to
// shorten the blow).
TEST(Advice, ABlowReadDirectlyNeedsNoStrings) {
  Page page = ready_page();
  page.blow("C4", 47).blow("D4", 45).aftertouch("D4", 2);
  const Line line = page.line();
  EXPECT_DOUBLE_EQ(mm(*at(line, "C4").deviation), -1);
  EXPECT_EQ(verdict_words(at(line, "C4")), "raise");
  EXPECT_EQ(verdict_words(at(line, "D4")), "lower");
  EXPECT_FALSE(at(line, "C4").hammer);
}

// Worked by hand: 1 mm / (9 mm per turn) = 7.11/64; 0.5 mm / (8 mm per turn) = 2/32.
TEST(Advice, TurnsAreTheDeviationOverTheRiseRoundedToTheStep) {
  Page page = ready_page();
  page.blow("C4", 47);
  EXPECT_DOUBLE_EQ(turns_of(at(page.line(), "C4")), 7.0 / 64);
  EXPECT_DOUBLE_EQ(mm(at(page.line(), "C4").crown_travel), 1);
  page.set("crown-per-turn", "8 mm, 1 mm").set("turn-step", "1/32").blow("D4", 46.5);
  EXPECT_DOUBLE_EQ(turns_of(at(page.line(), "D4")), 2.0 / 32);
}

// Half a step of 1/64 turn at 9 mm per turn is 0.0703125 mm.
TEST(Advice, LessThanHalfAStepIsLeft) {
  Page page = ready_page();
  page.blow("C4", 46.0702, 0.001).blow("D4", 46.0704, 0.001);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::leave_fine);
  EXPECT_DOUBLE_EQ(turns_of(at(page.line(), "C4")), 0);
  EXPECT_EQ(at(page.line(), "D4").verdict, Verdict::move);
  EXPECT_DOUBLE_EQ(turns_of(at(page.line(), "D4")), 1.0 / 64);
}

// Quantiles of the standard normal distribution from any table (also JCGM 100:2008 table G.1, two
// sides: 90 % → 1.645, 95 % → 1.960, 99 % → 2.576).
TEST(Advice, DirectionSurenessIsThatOfTheNormalDistribution) {
  const Length sd = 0.2 * millimetre;
  EXPECT_NEAR(line::direction_sureness(1.645 * sd, sd), 0.95, 1e-4);
  EXPECT_NEAR(line::direction_sureness(-1.960 * sd, sd), 0.975, 1e-4);
  EXPECT_NEAR(line::direction_sureness(2.576 * sd, sd), 0.995, 1e-4);
  EXPECT_DOUBLE_EQ(line::direction_sureness(Length(), sd), 0.5);
}

TEST(Advice, AMoveWithinNoiseIsLeft) {
  const auto verdict = [](const char* sureness, double sigmas) {
    Page page = ready_page();
    page.set("direction-sureness", sureness).blow("C4", 47, 1 / sigmas);
    return at(page.line(), "C4").verdict;
  };
  EXPECT_EQ(verdict("0.95", 1.640), Verdict::leave_noise);
  EXPECT_EQ(verdict("0.95", 1.650), Verdict::move);
  EXPECT_EQ(verdict("0.975", 1.955), Verdict::leave_noise);
  EXPECT_EQ(verdict("0.975", 1.965), Verdict::move);
  EXPECT_EQ(verdict("0.5", 0.01), Verdict::move);
}

// Trade list archives 2002, 2004: (blow − let-off) / (dip − aftertouch) = R, so aftertouch loses
// blow / R. R = 5: 1 mm more blow takes 0.20 mm, and 0.010 in of paper stands for 1.27 mm of blow.
// Half a millimetre must be left. Batten reckons with no action better than R = 4.5, and with the
// crown going as far as the turns may take it: 1.35 mm wanted are 10/64 turn, 10.5 mm a turn at the
// most.
TEST(Advice, LoweringNeverUsesUpTheAftertouch) {
  const auto verdict = [](double lowered, double aftertouch) {
    Page page = ready_page();
    page.blow("C4", 46 - lowered).aftertouch("C4", aftertouch);
    return at(page.line(), "C4").verdict;
  };
  const double paper = 0.010 * 25.4;
  EXPECT_NEAR(1.27 / 5, paper, 1e-12);
  EXPECT_EQ(verdict(1.0, 0.5 + 0.19), Verdict::held_escapement);
  EXPECT_EQ(verdict(1.27, 0.5 + paper - 0.01), Verdict::held_escapement);
  const double goes = 10.5 * 10 / 64;
  EXPECT_EQ(verdict(1.40, 0.5 + goes / 4.5 - 0.001), Verdict::held_escapement);
  EXPECT_EQ(verdict(1.40, 0.5 + goes / 4.5 + 0.001), Verdict::move);
  EXPECT_EQ(verdict(0.2, 0.4), Verdict::held_escapement);
  EXPECT_EQ(verdict(-1.0, 0.1), Verdict::move);  // raising gives aftertouch
  EXPECT_LE(line::least_action_ratio, 4.742);    // the least R of the trade's worked examples
}

// Without a reading of its own a note is reckoned with the least of its section and of the usual
// figures, 0.8 mm (trade texts); without any in its section nothing is taken away.
TEST(Advice, AftertouchNotReadIsTakenFromTheCarefulSide) {
  Page page = ready_page();
  page.blow("C4", 46 - 0.5);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::held_escapement);
  page.aftertouch("G4", 1.5);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::move);  // 0.8 reckoned with, not 1.5
  page.blow("D4", 46 - 1.5);
  EXPECT_EQ(at(page.line(), "D4").verdict, Verdict::held_escapement);
  page.aftertouch("A4", 0.55);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::held_escapement);
  page.aftertouch("C4", 1.5);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::move);
  page.aftertouch("C6", 0.1);  // another section
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::move);
}

// A low figure once read is not forgotten because a later visit read other notes.
TEST(Advice, ALowAftertouchIsRememberedOverVisits) {
  Page page = ready_page();
  page.aftertouch("C4", 0.4);
  page.new_visit().pass_gate().aftertouch("E4", 1.2).blow("C4", 46 - 1);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::held_escapement);
}

TEST(Advice, MovesSinceTheReadingAreReckonedWith) {
  const auto verdict = [](double amount, Adjuster adjuster) {
    Page page = ready_page();
    page.aftertouch("C4", 1.2).turned("C4", amount, adjuster).blow("C4", 46 - 1);
    return at(page.line(), "C4").verdict;
  };
  EXPECT_EQ(verdict(0.001, Adjuster::back_check), Verdict::move);
  EXPECT_EQ(verdict(0.7, Adjuster::front_punchings), Verdict::held_escapement);  // one for one
  EXPECT_EQ(verdict(-0.25, Adjuster::capstan), Verdict::held_escapement);
  EXPECT_EQ(verdict(0.1, Adjuster::let_off_button), Verdict::held_escapement);  // effect not known
}

// Gauge and block of one visit that contradict each other are told; of two visits the later counts.
TEST(Advice, GaugeAndBlockAreHeldAgainstEachOther) {
  Page page = level_page();
  page.hammer("C4", 150).blow("C4", 46);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::read_again);
  Page later = level_page();
  later.hammer("C4", 150);
  later.new_visit().pass_gate().blow("C4", 46.01);
  EXPECT_EQ(at(later.line(), "C4").verdict, Verdict::leave_fine);
}

// A string read badly and not read again does not guide its own hammer, however sure the curve is.
TEST(Advice, AHammerUnderADoubtfulStringIsHeld) {
  Page page = level_page();
  page.string("C#4", 202).hammer("C#4", 153);
  EXPECT_EQ(at(page.line(), "C#4").verdict, Verdict::target_unsure);
  page.string("C#4", 200.02);
  EXPECT_EQ(at(page.line(), "C#4").verdict, Verdict::move);
}

// Three transfers side by side, or one far off the others, leave the ends of the bench untied.
TEST(Advice, AnUnsureBenchIsNotSetBy) {
  Page page = level_page();
  page.set("hammer-datum", "bench").hammer("A0", 92).hammer("C8", 92);
  page.transfer("C4", 60).transfer("C#4", 60).transfer("D4", 60);
  EXPECT_EQ(at(page.line(), "C8").verdict, Verdict::no_transfer);
  page.transfer("A0", 60).transfer("C8", 60);
  EXPECT_EQ(at(page.line(), "C8").verdict, Verdict::move);
}

TEST(Advice, RaisingStopsWhereTheBlowWouldBeTooShort) {
  Page page = level_page();
  // By the gauge 3 mm too low, by a block of an earlier visit only 37 mm from its string.
  page.blow("C4", 37);
  page.new_visit().pass_gate().hammer("C4", 151);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::held_block);
  page.hammer("D4", 151).blow("D4", 49);
  EXPECT_EQ(at(page.line(), "D4").verdict, Verdict::move);
}

TEST(Advice, NotesThatCannotBeJudgedSaySo) {
  Page page = level_page();
  page.set("out-of-service", "E4");
  page.hammer("C4", 150).turned("C4", 1.0 / 16);
  page.hammer("D4", 160.2);                        // 6.2 mm off: a slip of the gauge
  page.hammer("E4", 150);                          // out of service
  page.hammer("F4", 150).hammer("F4", 151);        // repeats disagree
  page.blow("G4", 46.5, 0.1).blow("G4", 48, 0.1);  // likewise by the block
  const Line line = page.line();
  EXPECT_EQ(at(line, "C4").verdict, Verdict::moved_read_again);
  EXPECT_EQ(at(line, "D4").verdict, Verdict::read_again);
  EXPECT_EQ(at(line, "E4").verdict, Verdict::out_of_service);
  EXPECT_EQ(at(line, "F4").verdict, Verdict::read_again);
  EXPECT_EQ(at(line, "G4").verdict, Verdict::read_again);
  EXPECT_EQ(at(line, "A4").verdict, Verdict::not_read);
  for (const char* note : {"C4", "D4", "E4", "F4", "G4", "A4"}) {
    EXPECT_DOUBLE_EQ(turns_of(at(line, note)), 0) << note;
    EXPECT_FALSE(verdict_words(at(line, note)).empty());
  }
}

TEST(Advice, WithoutStringsThereIsNoTarget) {
  Page page = ready_page();
  page.hammer("C4", 150);
  EXPECT_EQ(at(page.line(), "C4").verdict, Verdict::no_target);
}

TEST(Advice, AnUnsureTargetIsNotSetBy) {
  Page page = ready_page();
  page.string("F2", 200).string("A#4", 200).hammer("C4", 152);
  const Line line = page.line();
  EXPECT_GT(mm(at(line, "C4").target_sd), 0.25);  // two readings say little of the middle
  EXPECT_EQ(at(line, "C4").verdict, Verdict::target_unsure);
  page.blow("D4", 47);  // a block against the string does not ask the curve
  EXPECT_EQ(at(page.line(), "D4").verdict, Verdict::move);
}

}  // namespace
}  // namespace batten

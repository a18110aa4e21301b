// What the demo piano hides, as the words around it tell it.
#include "core/keyboard/samples.hpp"
#include "workshop/demo.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten::workshop {
namespace {

class DemoTruthTest : public testing::Test {
 protected:
  const DemoTruth truth_ = demo_truth();
  std::size_t at(Key k) const {
    return static_cast<std::size_t>(truth_.strings.compass.position(k));
  }
};

TEST_F(DemoTruthTest, IsTheSameEachTime) {
  const DemoTruth again = demo_truth();
  EXPECT_EQ(truth_.strings.heights, again.strings.heights);
  EXPECT_EQ(truth_.hammers, again.hammers);
}

TEST_F(DemoTruthTest, CoversEightyEightKeys) {
  EXPECT_EQ(truth_.strings.compass.count(), 88);
  EXPECT_EQ(truth_.strings.sections.size(), 4U);
  EXPECT_EQ(truth_.strings.heights.size(), 88U);
  EXPECT_EQ(truth_.targets.size(), 88U);
  EXPECT_EQ(truth_.hammers_before.size(), 88U);
  EXPECT_EQ(truth_.hammers.size(), 88U);
}

// Blow from 46 mm at A0 straight to 45 mm at C8; makers' sheets lie between 44 and 48.
TEST_F(DemoTruthTest, WantsABlowOfFortySixToFortyFive) {
  Length last = 46.001 * millimetre;
  for (std::size_t i = 0; i < 88; ++i) {
    const Length blow = truth_.strings.heights[i] - truth_.targets[i];
    EXPECT_LT(blow, last);
    EXPECT_GT(blow, 44.999 * millimetre);
    last = blow;
  }
}

TEST_F(DemoTruthTest, HasBrokenStringLines) {
  // A strut or bridge is a jump; inside a section neighbours are closer than that.
  Length inside, across;
  for (std::size_t i = 1; i < 88; ++i) {
    const Length step = abs(truth_.strings.heights[i] - truth_.strings.heights[i - 1]);
    const auto& s = truth_.strings.sections;
    const bool breaks = section_of(s, truth_.strings.compass.at(static_cast<int>(i))) !=
                        section_of(s, truth_.strings.compass.at(static_cast<int>(i) - 1));
    Length& most = breaks ? across : inside;
    most = std::max(most, step);
  }
  EXPECT_LT(inside, 0.5 * millimetre);
  EXPECT_GT(across, 0.5 * millimetre);
}

// Wrong and low strings are among those that were read.
TEST_F(DemoTruthTest, HidesWhatCanBeFound) {
  const auto read = propose_fuller_samples(truth_.strings.sections);
  EXPECT_EQ(truth_.wrong.size(), 2U);
  for (const Key k : truth_.wrong)
    EXPECT_NE(std::ranges::find(read, k), read.end()) << note_name(k);
  EXPECT_EQ(truth_.low_unisons.size(), 3U);
  for (const Key k : truth_.low_unisons)
    EXPECT_NE(std::ranges::find(read, k), read.end()) << note_name(k);
}

// Half of one section is set: its moved hammers stand near their targets, all others as found.
TEST_F(DemoTruthTest, IsHalfwayThroughOneSection) {
  const Section& at_work = truth_.strings.sections[1];
  EXPECT_EQ(truth_.moves.size(), 11U);
  EXPECT_NEAR(static_cast<double>(truth_.moves.size()) / at_work.count(), 0.5, 0.1);
  auto expected = truth_.hammers_before;
  for (const DemoMove& m : truth_.moves) {
    EXPECT_TRUE(at_work.contains(m.key)) << note_name(m.key);
    expected[at(m.key)] = m.after;
    EXPECT_LT(abs(m.after - truth_.targets[at(m.key)]),
              abs(truth_.hammers_before[at(m.key)] - truth_.targets[at(m.key)]));
    // Half a step of 1/64 turn, 2 % of pitch and 0.004 turn of the hand, three times over.
    EXPECT_LT(abs(m.after - truth_.targets[at(m.key)]), 0.25 * millimetre) << note_name(m.key);
    // A positive turn raises.
    EXPECT_EQ(m.turns > Turns(), m.after > truth_.hammers_before[at(m.key)]) << note_name(m.key);
  }
  EXPECT_EQ(truth_.hammers, expected);
}

// R1 of checks: (blow − let-off)/(dip − aftertouch) = R, trade list archives; 4.7 to 5.2 there.
TEST_F(DemoTruthTest, HangsTogetherAtEveryNote) {
  ASSERT_EQ(truth_.aims.size(), 88U);
  for (std::size_t i = 0; i < 88; ++i) {
    const auto& a = truth_.aims[i];
    const double blow = (truth_.strings.heights[i] - truth_.hammers[i]).in(millimetre);
    EXPECT_DOUBLE_EQ(a[index_of(Aim::blow)], blow);
    const double ratio =
        (blow - a[index_of(Aim::let_off)]) / (a[index_of(Aim::dip)] - a[index_of(Aim::aftertouch)]);
    EXPECT_NEAR(ratio, truth_.ratio[i], 1e-9);
    EXPECT_GT(ratio, 4.7);
    EXPECT_LT(ratio, 5.2);
    // It plays: it lets go, falls and is caught (spans of R7, generously).
    EXPECT_GT(a[index_of(Aim::aftertouch)], 0.3);
    EXPECT_GT(a[index_of(Aim::let_off)], 0.8);
    EXPECT_GT(a[index_of(Aim::drop)], 0.5);
  }
}

// The earlier passes were done, each move toward what was wanted, and stand inside their tolerance.
TEST_F(DemoTruthTest, HasItsEarlierPassesBehindIt) {
  ASSERT_GT(truth_.settings.size(), 20U);
  const auto wanted = [](const DemoSetting& s) {
    switch (s.adjuster) {
      case Adjuster::balance_punchings:
        return is_sharp(s.key) ? 12.25 : 64.5;
      case Adjuster::jack_button:
        return 0.0;
      case Adjuster::lever_height_button:
        return 0.15;
      default:
        return 2.0;
    }
  };
  for (const DemoSetting& s : truth_.settings) {
    const double goal = wanted(s);
    EXPECT_LT(std::abs(s.after - goal), std::abs(s.before - goal)) << note_name(s.key);
    EXPECT_EQ(s.amount > 0, s.after > s.before) << note_name(s.key);
    const auto tolerance = kind_of(reading_of(aim_for(s.adjuster), s.key)).tolerance_neighbours;
    ASSERT_TRUE(tolerance);
    EXPECT_LT(std::abs(s.after - goal), *tolerance) << note_name(s.key);
  }
}

// Worn, not absurd: up to a few millimetres out.
TEST_F(DemoTruthTest, HasHammersThatNeedSetting) {
  std::vector<Length> off;
  for (std::size_t i = 0; i < 88; ++i) off.push_back(truth_.hammers[i] - truth_.targets[i]);
  EXPECT_GT(evenness(off), 0.3 * millimetre);
  for (const Length l : off) EXPECT_LT(abs(l), 4 * millimetre);
}

}  // namespace
}  // namespace batten::workshop

// What the demo piano hides, as the words around it tell it.
#include "core/keyboard/samples.hpp"
#include "workshop/demo.hpp"

#include <gtest/gtest.h>

#include <algorithm>

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

// Worn, not absurd: up to a few millimetres out.
TEST_F(DemoTruthTest, HasHammersThatNeedSetting) {
  std::vector<Length> off;
  for (std::size_t i = 0; i < 88; ++i) off.push_back(truth_.hammers[i] - truth_.targets[i]);
  EXPECT_GT(evenness(off), 0.3 * millimetre);
  for (const Length l : off) EXPECT_LT(abs(l), 4 * millimetre);
}

}  // namespace
}  // namespace batten::workshop

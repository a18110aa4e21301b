// The straight line that ties the bench to the strings' datum, against closed forms.
#include "core/regulation/line/transfer.hpp"

#include "tests/line/journal_page.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten {
namespace {

using line::Transfer;
using line_test::mm;

// 85 keys, so that one key lies exactly in the middle: x is −1 at key 1, 0 at 43 and 1 at 85.
constexpr Compass full_compass{Key{1}, Key{85}};

std::vector<HeightReading> three(double bass, double middle, double treble, double sd) {
  return {{Key{1}, bass * millimetre, sd * millimetre},
          {Key{43}, middle * millimetre, sd * millimetre},
          {Key{85}, treble * millimetre, sd * millimetre}};
}

// Normal equations of a straight line on x = −1, 0, 1 (any statistics text): a is the mean, and the
// slope's equation has one more term, 1 / 0.5² of the prior.
TEST(Transfer, ThreeReadingsInClosedForm) {
  const double s = 0.1, weight = 1 / (s * s);
  const Transfer t(full_compass, three(63.0, 63.15, 63.3, s));
  const double b = weight * (63.3 - 63.0) / (2 * weight + 4);
  EXPECT_NEAR(mm(t.offset(Key{43})), 63.15, 1e-9);
  EXPECT_NEAR(mm(t.offset(Key{1})), 63.15 - b, 1e-9);
  EXPECT_NEAR(mm(t.offset(Key{85})), 63.15 + b, 1e-9);
  // They lie on a straight line, so nothing is widened: var a = s²/3, var b = 1/(2/s² + 4).
  EXPECT_NEAR(mm(t.sd(Key{43})), s / std::sqrt(3.0), 1e-9);
  EXPECT_NEAR(mm(t.sd(Key{85})), std::sqrt(s * s / 3 + 1 / (2 * weight + 4)), 1e-9);
}

TEST(Transfer, GrowsLessSureTowardTheEnds) {
  const Transfer t(full_compass, {{Key{20}, 63 * millimetre, 0.1 * millimetre},
                              {Key{43}, 63 * millimetre, 0.1 * millimetre},
                              {Key{66}, 63 * millimetre, 0.1 * millimetre}});
  for (int k = 43; k < 85; ++k) EXPECT_LT(t.sd(Key{k}), t.sd(Key{k + 1}));
  for (int k = 43; k > 1; --k) EXPECT_LT(t.sd(Key{k}), t.sd(Key{k - 1}));
}

// Read only in the treble the tilt leaves the bass open: with sums S0 = 2w, S1 = 1.5w and
// S2 = 1.25w + 4 over x = 0.5 and 1 the variance at x is (S2 − 2 x S1 + x² S0) / (S0 S2 − S1²).
TEST(Transfer, OneSidedReadingsInClosedForm) {
  const double w = 100;  // 1 / 0.1²
  const Transfer t(full_compass, {{Key{64}, 63 * millimetre, 0.1 * millimetre},
                              {Key{85}, 63 * millimetre, 0.1 * millimetre}});
  const double s0 = 2 * w, s1 = 1.5 * w, s2 = 1.25 * w + 4, det = s0 * s2 - s1 * s1;
  EXPECT_NEAR(mm(t.sd(Key{1})), std::sqrt((s2 + 2 * s1 + s0) / det), 1e-9);
  EXPECT_NEAR(mm(t.sd(Key{85})), std::sqrt((s2 - 2 * s1 + s0) / det), 1e-9);
  EXPECT_GT(mm(t.sd(Key{1})), 4 * mm(t.sd(Key{85})));
}

// Birge 1932: uncertainties are multiplied by sqrt(chi² / degrees of freedom) when that exceeds 1.
TEST(Transfer, ScatterBeyondTheStatedUncertaintyWidensIt) {
  const double s = 0.1;
  // Residuals +0.2, −0.4, +0.2 about the mean 63, slope 0: chi² = (0.04 + 0.16 + 0.04) / 0.01 = 24
  // over 2 degrees of freedom.
  const Transfer t(full_compass, three(63.2, 62.6, 63.2, s));
  EXPECT_NEAR(mm(t.offset(Key{43})), 63.0, 1e-9);
  EXPECT_NEAR(mm(t.sd(Key{43})), s / std::sqrt(3.0) * std::sqrt(12.0), 1e-9);
}

TEST(Transfer, OneReadingLeavesTheTiltToThePrior) {
  const Transfer t(full_compass, {{Key{43}, 63 * millimetre, 0.1 * millimetre}});
  EXPECT_NEAR(mm(t.offset(Key{1})), 63, 1e-9);
  EXPECT_NEAR(mm(t.sd(Key{43})), 0.1, 1e-9);
  EXPECT_NEAR(mm(t.sd(Key{1})), std::sqrt(0.01 + 0.25), 1e-9);
}

TEST(Transfer, ABenchNeedsThreeNotesNotThreeReadings) {
  line_test::Page page = line_test::level_page();
  page.set("hammer-datum", "bench").hammer("C4", 92);
  page.transfer("C4", 63).transfer("C4", 63).transfer("A0", 63);
  EXPECT_FALSE(page.line().transfer.ready);
  EXPECT_EQ(page.line().transfer.readings, 2);
  EXPECT_EQ(line_test::at(page.line(), "C4").verdict, Verdict::no_transfer);
  EXPECT_TRUE(page.line().order.empty());
  page.transfer("C8", 63);
  const Line line = page.line();
  EXPECT_TRUE(line.transfer.ready);
  // 92 over the bench is 155 over the strings' datum, 1 mm above 200 − 46.
  EXPECT_NEAR(mm(*line_test::at(line, "C4").deviation), 1, 0.02);
}

}  // namespace
}  // namespace batten

// R1 to R4 as arithmetic: figures worked in trade list archives, and what follows from them.
#include "core/regulation/brief/identity.hpp"

#include <gtest/gtest.h>

namespace batten {
namespace {

// Trade list archives 2002, 2004: blow 44, let-off 2, dip 10, aftertouch 1.143 (0.045 in) and two
// more, worked to three figures there.
TEST(Identity, WorkedExamples) {
  EXPECT_NEAR(calc_ratio(44, 2, 10, 1.143), 4.742, 0.0005);
  EXPECT_NEAR(calc_ratio(46, 2, 10, 1), 4.889, 0.0005);
  EXPECT_NEAR(calc_ratio(48, 1, 10, 1), 5.22, 0.005);
}

// The same, differentiated: with a ratio of 5, a millimetre of blow takes 0.2 mm of aftertouch, and
// 0.010 in of paper under the key's front is worth 1.27 mm of blow (trade list archives 2002).
TEST(Identity, Sensitivities) {
  const double before = calc_aftertouch(45, 1.5, 10, 5);
  EXPECT_NEAR(calc_aftertouch(46, 1.5, 10, 5) - before, -0.20, 1e-12);
  EXPECT_NEAR(calc_aftertouch(45, 2.5, 10, 5) - before, 0.20, 1e-12);
  EXPECT_NEAR(calc_aftertouch(45, 1.5, 10.3, 5) - before, 0.30, 1e-12);
  const double paper = 0.010 * 25.4;
  EXPECT_NEAR(calc_blow(1.5, 10, 1, 5) - calc_blow(1.5, 10 - paper, 1, 5), 1.27, 1e-12);
}

// A ratio of 6.75 with 8 mm dip, 1 mm aftertouch and 1.15 mm let-off needs a blow of 48.4 mm (trade
// list 2009).
TEST(Identity, Misfit) { EXPECT_NEAR(calc_blow(1.15, 8, 1, 6.75), 48.4, 0.05); }

// A dip shallower than the hammer needs leaves less than nothing (logic of the identity).
TEST(Identity, NoEscapement) {
  EXPECT_NEAR(calc_escape_depth(46, 2, 4.889), 9, 0.001);
  EXPECT_LT(calc_aftertouch(46, 2, 8.9, 4.889), 0);
  EXPECT_GT(calc_aftertouch(46, 2, 9.1, 4.889), 0);
}

}  // namespace
}  // namespace batten

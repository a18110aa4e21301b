// What was read at earlier visits says less of today, however often it was read.
#include "core/regulation/planning/state.hpp"
#include "tests/planning/linear_piano.hpp"

#include <gtest/gtest.h>

namespace batten {
namespace {

constexpr Key key{40};

double sd_of_blow(bool earlier) {
  testing::LinearPiano piano(1);
  for (int i = 0; i < 4; ++i) piano.read(key, Aim::blow);
  Standing standing = piano.standing();
  if (earlier) {
    for (std::size_t i = 0; i < 4; ++i)
      standing.readings[i].visit.bytes[0] = static_cast<std::uint8_t>(i + 1);
    standing.visit.bytes[0] = 9;  // begun, nothing read yet
  }
  return calc_situation(piano.compass(), standing, piano.model())->at(key).sd(Aim::blow);
}

// By the rule of state.hpp: as much again as the tolerance since the last visit.
TEST(EarlierVisits, LeaveTheDoubtOfTheTimeSince) {
  const double tolerance = *kind_of(Reading::blow).tolerance_absolute;
  EXPECT_GT(sd_of_blow(true), 0.99 * tolerance);
  EXPECT_LT(sd_of_blow(true), 1.1 * tolerance);
  // Four readings of one visit, each to half the usual: a mean (JCGM 100:2008, 4.2.3).
  EXPECT_NEAR(sd_of_blow(false), kind_of(Reading::blow).usual_uncertainty / 4, 0.001);
}

}  // namespace
}  // namespace batten

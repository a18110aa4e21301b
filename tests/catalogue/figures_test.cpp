// Usual figures against what trade texts and workshop articles agree on: three makers' sheets, kept
// anonymous because none is to be taken for truth.
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace batten {
namespace {

struct Span {
  Reading reading;
  double low, high;
};

// Trade texts: spans of the handbooks, in the unit of the reading.
TEST(Figures, LieInsideTheSpansOfTheHandbooks) {
  const std::vector<Span> trade{
      {Reading::blow, 44, 48},
      {Reading::dip, 9.5, 10.8},
      {Reading::let_off, 1, 3},
      {Reading::drop, 0, 1.6},
      {Reading::check_distance, 12, 16},
      {Reading::aftertouch, 0.8, 1.6},
      {Reading::sharps_height, 12, 12.5},
      {Reading::key_height, 63, 68},
      {Reading::down_weight, 46, 52},
      {Reading::hammer_centre_friction, 2, 5},
      {Reading::humidity, 45, 65},
  };
  for (const Span& span : trade) {
    const ReadingKind& kind = kind_of(span.reading);
    ASSERT_TRUE(kind.usual_low && kind.usual_high) << kind.code;
    EXPECT_GE(*kind.usual_low, span.low) << kind.code;
    EXPECT_LE(*kind.usual_high, span.high) << kind.code;
    EXPECT_EQ(kind.provenance, Provenance::trade) << kind.code;
  }
}

TEST(Figures, HoldTheSingleFiguresOfTheHandbooks) {
  const auto holds = [](Reading reading, double figure) {
    const ReadingKind& kind = kind_of(reading);
    return kind.usual_low.value_or(kind.possible_low) <= figure &&
           figure <= kind.usual_high.value_or(kind.possible_high);
  };
  EXPECT_TRUE(holds(Reading::jack_clearance, 0.2));  // trade texts: a paper's thickness
  EXPECT_TRUE(holds(Reading::damper_start, 0.5));    // trade texts: half the blow
  EXPECT_TRUE(holds(Reading::jack_position, 0));     // trade texts: level with the knuckle's core
  // Worked touch weights of a university technicians' list, about 2003: down 52, 50 and 46 with up
  // 28, 20 and 24.
  for (const double down : {52, 50, 46}) EXPECT_TRUE(holds(Reading::down_weight, down));
  for (const double up : {28, 20, 24}) EXPECT_TRUE(holds(Reading::up_weight, up));
}

// (blow − let-off) / (dip − aftertouch) is the action ratio, and the ratios worked in trade list
// archives of 2002 and 2004 run from 4.742 to 5.22: usual figures must be able to give them.
TEST(Figures, CanBeCombinedIntoAnActionThatWorks) {
  const auto middle = [](Reading reading) {
    return (*kind_of(reading).usual_low + *kind_of(reading).usual_high) / 2;
  };
  const double ratio = (middle(Reading::blow) - middle(Reading::let_off)) /
                       (middle(Reading::dip) - middle(Reading::aftertouch));
  EXPECT_GT(ratio, 4.742);
  EXPECT_LT(ratio, 5.22);
}

// Common practice, no source: a capstan's 1/16 turn moves a crown more than half a millimetre, so a
// hand must work in finer steps to reach the tolerance between neighbours.
TEST(Figures, GiveTheCapstanAStepFinerThanTheTolerance) {
  constexpr double crown_per_turn = 9;  // mm, the prior of the line job
  const double step = kind_of(Adjuster::capstan).hand_step * crown_per_turn;
  EXPECT_LT(step, *kind_of(Reading::blow).tolerance_neighbours);
}

TEST(Figures, AreNotCalledPublishedWithoutAPublication) {
  for (const ReadingKind& kind : reading_kinds()) {
    EXPECT_NE(kind.provenance, Provenance::published) << kind.code;
  }
}

}  // namespace
}  // namespace batten

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

// What one unit of each does to what it sets, in that reading's unit; common practice and from
// memory: a capstan's 1/16 turn moves a crown more than half a millimetre, a let-off button's three
// or four times what the screw itself goes; two bends change a spring by a grade.
double nominal_effect(Adjuster adjuster) {
  switch (adjuster) {
    case Adjuster::capstan:
      return 9;
    case Adjuster::let_off_button:
    case Adjuster::drop_screw:
      return 3;
    case Adjuster::jack_button:
    case Adjuster::lever_height_button:
      return 0.9;
    case Adjuster::repetition_spring:
      return 0.5;
    case Adjuster::damper_wire:
      return 0.1;  // of the blow: the hammer goes some five times as far as the damper's lever
    default:
      return 1;
  }
}

// The nearest of the steps a hand can make must lie inside the finer tolerance, and the limit must
// reach well past it.
TEST(Figures, GiveEveryAdjusterAStepFinerThanTheToleranceAndALimitBeyondIt) {
  for (const AdjusterKind& kind : adjuster_kinds()) {
    const ReadingKind& reading = kind_of(kind.sets);
    const double effect = nominal_effect(kind.id);
    const double fine = reading.tolerance_neighbours.value_or(*reading.tolerance_absolute);
    EXPECT_LT(kind.hand_step * effect / 2, fine) << kind.code;
    EXPECT_GT(kind.limit * effect, 3 * *reading.tolerance_absolute) << kind.code;
  }
}

// A full regulation of 88 notes in some ten hours is common practice, no source: moves alone must
// fit with readings and set-ups beside them.
TEST(Figures, GiveAFullRegulationTheHoursItTakes) {
  double minutes = 0;
  for (const AdjusterKind& kind : adjuster_kinds())
    if (kind.id <= Adjuster::damper_wire) minutes += 88 * kind.minutes_move + kind.minutes_set_up;
  EXPECT_GT(minutes, 300);
  EXPECT_LT(minutes, 700);
}

TEST(Figures, AreNotCalledPublishedWithoutAPublication) {
  for (const ReadingKind& kind : reading_kinds()) {
    EXPECT_NE(kind.provenance, Provenance::published) << kind.code;
  }
}

}  // namespace
}  // namespace batten

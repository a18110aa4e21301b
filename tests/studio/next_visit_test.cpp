// What the next visit takes, against a sum done by hand.
#include "core/regulation/studio/next_visit.hpp"

#include <gtest/gtest.h>

namespace batten {
namespace {

class NextVisitTest : public testing::Test {
 protected:
  NextVisitTest() {
    for (const AdjusterKind& k : adjuster_kinds()) paces_.moves[k.id] = {1.0, 0};
    for (const ReadingKind& k : reading_kinds()) paces_.readings[k.id] = {0.5, 0};
  }
  void know(Reading reading, std::initializer_list<int> keys, double now, double at_due) {
    OutlookReading r;
    r.reading = reading;
    r.notes = static_cast<int>(keys.size());
    outlook_.readings.push_back(r);
    for (const int k : keys) {
      OutlookNote n;
      n.key = Key{k};
      n.reading = reading;
      n.outside_now = now;
      n.outside_at_due = at_due;
      outlook_.notes.push_back(n);
    }
  }
  NextVisit visit() const {
    return calc_next_visit(outlook_, Compass{}, *equipment_on_record(Compass{}, {}), catalogue_,
                           paces_);
  }

  WorkingCatalogue catalogue_ = *working_catalogue({});
  Paces paces_;
  Outlook outlook_;
};

// Half of four let-offs known are out: of 88, 44. 25 about + 22 samples × 0.5 + set-up of the
// buttons + 44 × (1 + 0.5).
TEST_F(NextVisitTest, IsTheSumOfItsParts) {
  know(Reading::let_off, {4, 28, 52, 76}, 0.5, 0.75);
  const double set_up = catalogue_.labour(Adjuster::let_off_button).minutes_set_up;
  const NextVisit v = visit();
  EXPECT_DOUBLE_EQ(v.minutes_now, 25 + 11 + set_up + 44 * 1.5);
  EXPECT_DOUBLE_EQ(v.minutes_at_return, 25 + 11 + set_up + 66 * 1.5);
  EXPECT_DOUBLE_EQ(v.worth, 44);
  EXPECT_EQ(v.worst, Reading::let_off);
  EXPECT_DOUBLE_EQ(v.worst_share, 0.5);
}

// Nothing sets the aftertouch by itself; its notes outside count all the same.
TEST_F(NextVisitTest, OfTheAftertouchOnlyTheReadings) {
  know(Reading::aftertouch, {4, 28}, 1, 1);
  const NextVisit v = visit();
  EXPECT_DOUBLE_EQ(v.minutes_now, 25 + 11);
  EXPECT_DOUBLE_EQ(v.worth, 88);
}

// 52 naturals have a dip of their own; 36 sharps theirs (A0 to C8).
TEST_F(NextVisitTest, CountsTheKeysThatHaveTheReading) {
  know(Reading::dip, {4}, 1, 1);
  EXPECT_DOUBLE_EQ(visit().worth, 52);
  know(Reading::sharp_dip, {5}, 0.5, 0.5);
  EXPECT_DOUBLE_EQ(visit().worth, 52 + 18);
  EXPECT_EQ(visit().worst, Reading::dip);
}

TEST_F(NextVisitTest, NothingOutsideIsALookOnly) {
  know(Reading::let_off, {4, 28}, 0, 0);
  EXPECT_DOUBLE_EQ(visit().minutes_now, 25 + 11);
  EXPECT_FALSE(visit().worst);
}

}  // namespace
}  // namespace batten

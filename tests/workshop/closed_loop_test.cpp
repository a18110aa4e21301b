// The judge, the technicians and the loop around them. The figures of many pianos are in
// docs/theory/closed-loop.md; here few, to see that it works.
#include "workshop/closed_loop.hpp"

#include "workshop/batten_technician.hpp"
#include "workshop/mechanism_piano.hpp"
#include "workshop/reference_technicians.hpp"
#include "workshop/table_piano.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace batten::workshop {
namespace {

// A straight line is its own fair curve (closed form), and one note that stands out does not bend
// it: the biweight gives no weight beyond 4.685 scales (Beaton & Tukey 1974).
TEST(Judge, DrawsTheLineOfTheNeighbours) {
  std::vector<double> x, y;
  for (int i = 0; i < 22; ++i) {
    x.push_back(i);
    y.push_back(46 - 0.02 * i + (i % 2 == 0 ? 0.01 : -0.01));
  }
  y[10] += 0.8;
  const auto line = neighbours_line(x, y), fair = fair_parabola(x, y);
  for (std::size_t i = 0; i < x.size(); ++i) {
    EXPECT_NEAR(line[i], 46 - 0.02 * x[i], 0.02) << i;
    EXPECT_NEAR(fair[i], 46 - 0.02 * x[i], 0.02) << i;
  }
}

TEST(Judge, FollowsABowThatNeighboursShare) {
  std::vector<double> x, y;
  for (int i = 0; i < 22; ++i) {
    x.push_back(i);
    y.push_back(0.001 * (i - 11.0) * (i - 11.0));
  }
  const auto fair = fair_parabola(x, y);
  for (std::size_t i = 0; i < x.size(); ++i) EXPECT_NEAR(fair[i], y[i], 1e-6) << i;
}

// Against its own readings every note is on target; against targets a millimetre off none is.
TEST(Judge, HoldsEachToHisOwnTarget) {
  const auto piano = make_table_piano(1);
  std::vector<NoteTargets> own, off;
  for (const NoteTruth& t : piano->truth()) {
    own.push_back(t.aim);
    off.push_back(t.aim);
    for (double& x : off.back()) x += 3;
  }
  const Verdict right = judge(*piano, own), wrong = judge(*piano, off);
  EXPECT_EQ(right.notes, 88);
  for (std::size_t j = 0; j < judged_count; ++j) {
    EXPECT_EQ(right.inside_absolute[j], 88);
    EXPECT_EQ(wrong.inside_absolute[j], 0);
    EXPECT_EQ(right.inside_neighbours[j], wrong.inside_neighbours[j]);
    EXPECT_LT(right.inside_neighbours[j], 88);  // it is worn
    EXPECT_EQ(right.inside[j], right.inside_neighbours[j]);
  }
  EXPECT_EQ(wrong.inside_all, 0);
}

void reach_most(const Outcome& o) {
  EXPECT_LT(o.after.unevenness_all, 0.5 * o.before.unevenness_all);
  // Blow, let-off, drop, clearance of nine notes in ten; dip and aftertouch, held against each
  // other by the ratio's scatter, and the check of three in four.
  for (std::size_t j = 0; j < judged_count; ++j) {
    const Aim aim = judged_aims[j];
    const bool plain =
        aim == Aim::blow || aim == Aim::let_off || aim == Aim::drop || aim == Aim::jack_clearance;
    EXPECT_GE(o.after.inside[j], plain ? 77 : 66) << j;
  }
  EXPECT_GT(o.tally.moves, 400);
  EXPECT_LT(o.tally.harmful, 20);
}

TEST(ByTheBook, ReachesItsGoalOnMostNotes) {
  const auto piano = make_table_piano(2);
  const Outcome o = run(*piano, *by_the_book(), 3);
  reach_most(o);
  EXPECT_GT(o.tally.readings, 88 * 11);
}

TEST(Skilled, ReachesItsGoalOnMostNotes) {
  const auto piano = make_mechanism_piano(2);
  reach_most(run(*piano, *skilled(), 3));
}

TEST(Skilled, TakesLessTimeThanTheBook) {
  const auto found = make_table_piano(2);
  const auto piano = found->copy(), other = found->copy();
  const Outcome o = run(*piano, *skilled(), 3);
  EXPECT_GT(o.tally.readings_by_eye, o.tally.readings);
  EXPECT_LT(o.tally.minutes, run(*other, *by_the_book(), 3).tally.minutes);
}

// Nobody turns what is already right: a second go finds less, and what it finds is mostly the eye's
// noise and a dip chosen anew.
TEST(Skilled, LeavesAloneWhatIsInside) {
  const auto piano = make_table_piano(4);
  const auto technician = skilled();
  const int first = run(*piano, *technician, 5).tally.moves;
  EXPECT_LT(run(*piano, *technician, 6).tally.moves, 7 * first / 10);
}

TEST(Batten, LeavesThePianoMoreEvenAndHarmsNothing) {
  const auto piano = make_table_piano(2);
  const Outcome o = run(*piano, *batten_technician(), 3);
  EXPECT_LT(o.after.unevenness_all, 0.5 * o.before.unevenness_all);
  EXPECT_EQ(o.tally.harmful, 0);
  EXPECT_GT(o.tally.minutes_writing, 0);
}

TEST(ClosedLoop, IsTheSameForTheSameSeeds) {
  const auto found = make_table_piano(6);
  const auto a = found->copy(), b = found->copy(), c = found->copy();
  const Outcome first = run(*a, *skilled(), 7), again = run(*b, *skilled(), 7),
                other = run(*c, *skilled(), 8);
  EXPECT_EQ(first.tally.minutes, again.tally.minutes);
  EXPECT_EQ(first.after.unevenness_all, again.after.unevenness_all);
  EXPECT_NE(first.tally.minutes, other.tally.minutes);
}

}  // namespace
}  // namespace batten::workshop

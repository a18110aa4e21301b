// Spreads worked by hand from the definition of the root mean square.
#include "core/regulation/account/account.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace batten {
namespace {

NoteAccount note(int key, double first, double now) {
  NoteAccount n;
  n.key = Key{key};
  n.aim = Aim::blow;
  n.reading = Reading::blow;
  n.target = 45;
  n.tolerance = 0.5;
  n.neighbour_tolerance = 0.25;
  n.first = first;
  n.basis = Basis::read;
  n.now = now;
  return n;
}

std::vector<const NoteAccount*> refer(const std::vector<NoteAccount>& notes) {
  std::vector<const NoteAccount*> list;
  for (const NoteAccount& n : notes) list.push_back(&n);
  return list;
}

TEST(Spread, IsTheRootMeanSquareAgainstTargetAndNeighbours) {
  // Off by 0.6, 0.0, −0.4: (0.36 + 0 + 0.16) / 3 = 0.17333…, root 0.416333; in tolerances of 0.5
  // twice that. The middle one lies 0 − (0.6 − 0.4) / 2 = −0.1 from its neighbours' mean.
  const std::vector<NoteAccount> notes{note(40, 45.6, 45), note(41, 45.0, 45), note(42, 44.6, 45)};
  const Spread s = spread_of(refer(notes), true);
  EXPECT_EQ(s.notes, 3);
  EXPECT_EQ(s.outside, 1);
  EXPECT_NEAR(s.rms, 0.416333, 1e-6);
  EXPECT_NEAR(s.rms_tolerances, 0.832666, 1e-6);
  EXPECT_EQ(s.beside, 1);
  EXPECT_EQ(s.outside_beside, 0);
  EXPECT_NEAR(s.beside_rms, 0.1, 1e-9);
  EXPECT_NEAR(s.beside_rms_tolerances, 0.4, 1e-9);
  const Spread now = spread_of(refer(notes), false);
  EXPECT_EQ(now.outside, 0);
  EXPECT_EQ(now.rms, 0);
}

TEST(Spread, HasNoNeighboursBeyondAMinorThird) {
  const std::vector<NoteAccount> near{note(40, 45, 46), note(43, 45, 45), note(46, 45, 46)};
  EXPECT_EQ(spread_of(refer(near), false).beside, 1);
  EXPECT_EQ(spread_of(refer(near), false).outside_beside, 1);
  const std::vector<NoteAccount> far{note(40, 45, 46), note(43, 45, 45), note(47, 45, 46)};
  EXPECT_EQ(spread_of(refer(far), false).beside, 0);
  EXPECT_EQ(spread_of(refer(far), false).beside_rms, 0);
  EXPECT_EQ(spread_of({}, false).rms, 0);
}

// A taper is no unevenness: 46, 45.5, 45 against targets that fall alike.
TEST(Spread, ComparesDeviationsFromTarget) {
  std::vector<NoteAccount> notes{note(40, 0, 46), note(41, 0, 45.5), note(42, 0, 45)};
  for (NoteAccount& n : notes) n.target = n.now;
  EXPECT_EQ(spread_of(refer(notes), false).rms, 0);
  EXPECT_EQ(spread_of(refer(notes), false).beside_rms, 0);
}

}  // namespace
}  // namespace batten

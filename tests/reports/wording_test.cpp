#include "reports/wording.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten::paper {
namespace {

// Arithmetic by hand.
TEST(Wording, TurnsAreFractionsInLowestTerms) {
  EXPECT_EQ(turn_fraction(3.0 / 64 * turn, 64), "3/64");
  EXPECT_EQ(turn_fraction(-8.0 / 64 * turn, 64), "1/8");
  EXPECT_EQ(turn_fraction(1.25 * turn, 64), "1 1/4");
  EXPECT_EQ(turn_fraction(2.0 * turn, 64), "2");
  EXPECT_EQ(turn_fraction(7.0 / 60 * turn, 60), "7/60");
}

TEST(Wording, NeighboursAreJoinedFromThreeOn) {
  EXPECT_EQ(note_list({}), "");
  EXPECT_EQ(note_list({Key{1}}), "A0");
  EXPECT_EQ(note_list({Key{1}, Key{2}}), "A0, A♯0");
  EXPECT_EQ(note_list({Key{1}, Key{2}, Key{3}, Key{40}}), "A0–B0, C4");
}

TEST(Wording, LengthsInEitherUnit) {
  EXPECT_EQ(Units{}.gauge(146.25 * millimetre + 1e-9 * metre), "146.3");
  EXPECT_EQ((Units{.decimal_comma = true}.gauge(1.3 * millimetre)), "1,3");
  // 1.27 mm = 0.050 in, International Yard and Pound Agreement 1959.
  EXPECT_EQ((Units{.inches = true}.gauge(1.27 * millimetre)), "0.050");
  EXPECT_EQ(Units{}.fine(Length::from_si(INFINITY)), "–");
}

// Two notes at +0.9 and −0.3 mm. The first is lowered by exactly its deviation at 9 mm a turn known
// to ± 1.5: it may miss by 0.9 · 1.5/9 = 0.15 mm. The second stays. RMS = √((0.15² + 0.3²)/2).
TEST(Wording, ExpectedEvennessByHand) {
  Line line;
  line.gate.open = true;
  line.order = {Key{1}};
  line.notes.resize(2);
  line.notes[0].key = Key{1};
  line.notes[0].deviation = 0.9 * millimetre;
  line.notes[0].verdict = Verdict::move;
  line.notes[0].turns = -0.1 * turn;
  line.notes[1].key = Key{2};
  line.notes[1].deviation = -0.3 * millimetre;
  line.notes[1].verdict = Verdict::leave_noise;
  const auto after = expected_evenness(line, -1);
  ASSERT_TRUE(after);
  EXPECT_NEAR(after->in(millimetre), std::sqrt((0.0225 + 0.09) / 2), 1e-12);
  EXPECT_FALSE(expected_evenness(line, 3));
  line.gate.open = false;
  EXPECT_FALSE(expected_evenness(line, -1));
}

// Offset 61 mm at the lowest key, 63 mm at the highest: 62 mm halfway.
TEST(Wording, BenchHeightsTakeTheOffsetOff) {
  Line line;
  line.compass = {Key{1}, Key{87}};
  NoteLine note;
  note.key = Key{44};
  note.target = 146 * millimetre;
  EXPECT_EQ(height_to_read(line, note), note.target);
  line.transfer.needed = true;
  line.transfer.offset_at_lowest = 61 * millimetre;
  line.transfer.offset_at_highest = 63 * millimetre;
  EXPECT_NEAR(height_to_read(line, note).in(millimetre), 84, 1e-9);
}

}  // namespace
}  // namespace batten::paper

// The hands are as their law says, and everything they do is counted.
#include "workshop/hands.hpp"

#include "workshop/mechanism_piano.hpp"
#include "workshop/table_piano.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace batten::workshop {
namespace {

using enum Aim;
using enum Adjuster;

HandsLaw honest() {
  HandsLaw law;
  law.misread = 0;
  return law;
}
HandsLaw exact() {
  HandsLaw law = honest();
  law.turn_share = law.turn_stop = law.paper_stop = law.bend_share = 0;
  return law;
}

const Key c4{40};

// Four standard errors of a standard deviation, sd/sqrt(2n) (Kendall & Stuart; from memory).
TEST(Hands, ReadWithTheirNoise) {
  const auto piano = make_table_piano(1);
  const HandsLaw law = honest();
  Hands hands(*piano, 2, law);
  const double truth = piano->truth(std::span(&c4, 1))[0][dip];
  constexpr int n = 4000;
  for (const Way way : {Way::gauge, Way::eye}) {
    double sum = 0, squares = 0;
    for (int i = 0; i < n; ++i) {
      const double off = hands.read(std::span(&c4, 1), dip, way)[0] - truth;
      sum += off;
      squares += off * off;
    }
    const double sd = (way == Way::gauge ? law.gauge : law.eye)[index_of(dip)];
    EXPECT_NEAR(sum / n, 0, 4 * sd / std::sqrt(n));
    EXPECT_NEAR(std::sqrt(squares / n), sd, 4 * sd / std::sqrt(2 * n));
  }
  EXPECT_EQ(hands.tally().readings, n);
  EXPECT_EQ(hands.tally().readings_by_eye, n);
}

// One in a hundred, off by four to ten standard deviations; four standard errors of the count.
TEST(Hands, MisreadNowAndThen) {
  const auto piano = make_table_piano(1);
  const HandsLaw law;
  Hands hands(*piano, 3, law);
  const double truth = piano->truth(std::span(&c4, 1))[0][dip];
  const double sd = law.gauge[index_of(dip)];
  constexpr int n = 20'000;
  int far = 0;
  for (int i = 0; i < n; ++i) {
    const double off = std::abs(hands.read(std::span(&c4, 1), dip)[0] - truth);
    EXPECT_LE(off, 10 * sd);
    far += off > 3.99 * sd ? 1 : 0;
  }
  EXPECT_NEAR(far, 0.01 * n + 6.6e-5 * n, 4 * std::sqrt(0.01 * n));
  EXPECT_NEAR(hands.tally().misreads, 0.01 * n, 4 * std::sqrt(0.01 * n));
}

TEST(Hands, FindNothingWhereThereIsNothing) {
  const auto piano = make_table_piano(1);
  Hands hands(*piano, 4);
  const Key top{88};
  EXPECT_TRUE(std::isnan(hands.read(std::span(&top, 1), damper_start)[0]));
  EXPECT_EQ(hands.tally().readings, 0);
}

// The error of a turn: sd sqrt((0.03 x)^2 + (1/128)^2), shown at the mechanism's key level of the
// screw: the capstan's height goes by its pitch, the blow by it nearly in proportion.
TEST(Hands, TurnNearlyAsFarAsTheyMean) {
  const auto found = make_table_piano(5);
  HandsLaw law = exact();
  std::vector<double> exactly, nearly;
  for (const bool perfect : {true, false}) {
    const auto piano = found->copy();
    if (!perfect) law = honest();
    Hands hands(*piano, 6, law);
    hands.take_up(front_punchings);
    for (int number = 1; number <= 88; ++number) {
      const Key k{number};
      const double before = piano->truth(std::span(&k, 1))[0][dip];
      hands.turn(std::vector{MoveMeant{k, front_punchings, -0.5, before + 0.5}});
      (perfect ? exactly : nearly).push_back(piano->truth(std::span(&k, 1))[0][dip] - before);
    }
  }
  double squares = 0;
  for (std::size_t i = 0; i < nearly.size(); ++i) squares += std::pow(nearly[i] - exactly[i], 2);
  // A paper is off by 0.01 mm; table slopes are 0.8 to 1.3.
  EXPECT_NEAR(std::sqrt(squares / 88), 0.01, 0.005);
}

TEST(Hands, CountMinutesMovesAndRework) {
  const auto piano = make_table_piano(7);
  const HandsLaw law = exact();
  Hands hands(*piano, 8, law);
  hands.take_up(capstan);
  hands.take_up(capstan);
  hands.turn(
      std::vector{MoveMeant{Key{1}, capstan, 0.05, 45}, MoveMeant{Key{3}, capstan, 0.05, 45}});
  hands.turn(std::vector{MoveMeant{Key{3}, capstan, 0.05, 44}});
  const std::vector<Key> keys{Key{1}, Key{3}};
  hands.read(keys, blow);
  hands.read(keys, blow, Way::eye);
  hands.write(5);
  const double expected = 4 + 3 * 0.35 + 2 * 0.25 + 2 * 0.06 + 5 * 0.04;  // hands.hpp; no walk
  EXPECT_NEAR(hands.tally().minutes, expected, 1e-9);
  EXPECT_EQ(hands.tally().moves, 3);
  EXPECT_EQ(hands.tally().rework, 1);
  const double before = hands.tally().minutes;
  const Key far{63};
  hands.read(std::span(&far, 1), spring_rise);
  EXPECT_NEAR(hands.tally().minutes - before, 0.15 + 0.05 + 60 * 0.004, 1e-9);
}

TEST(Hands, NoteWrongWaysAndHarm) {
  const auto piano = make_mechanism_piano(9);
  Hands hands(*piano, 10, exact());
  const NoteTruth found = piano->truth(std::span(&c4, 1))[0];
  hands.take_up(capstan);
  // Raising the capstan shortens the blow: wrong where a longer one is meant.
  hands.turn(std::vector{MoveMeant{c4, capstan, 0.1, found[blow] + 1}});
  EXPECT_EQ(hands.tally().wrong_way, 1);
  EXPECT_EQ(hands.tally().wrong_way_misread, 0);
  // Right where a shorter one is, and where the goal is within the noise nothing can be said.
  hands.turn(std::vector{MoveMeant{c4, capstan, 0.05, found[blow] - 3}});
  const double now = piano->truth(std::span(&c4, 1))[0][blow];
  hands.turn(std::vector{MoveMeant{c4, capstan, 0.02, now + 0.1}});
  EXPECT_EQ(hands.tally().wrong_way, 1);
  EXPECT_EQ(hands.tally().harmful, 0);
  // A button backed off by two turns lets the hammer on to the string.
  hands.take_up(let_off_button);
  hands.turn(std::vector{MoveMeant{c4, let_off_button, -2, 0}});
  EXPECT_EQ(hands.tally().harmful, 1);
  EXPECT_FALSE(hands.lets_go(std::span(&c4, 1))[0]);
  // It was harmed before: not counted again.
  hands.turn(std::vector{MoveMeant{c4, let_off_button, -0.1, 0}});
  EXPECT_EQ(hands.tally().harmful, 1);
}

// The line of two set hammers, seen in between: what the string there does stays unseen.
TEST(Hands, SightAlongTheHammersThatAreSet) {
  const auto piano = make_table_piano(11);
  HandsLaw law = exact();
  law.eye.fill(0);
  Hands hands(*piano, 12, law);
  const auto height = [&](Key k) {
    return piano->strings().at(k).in(millimetre)-piano->truth(std::span(&k, 1))[0][blow] +
           piano->unsettled(k);
  };
  const std::vector<Key> set{Key{5}, Key{9}}, keys{Key{7}};
  const std::vector<double> targets{46};
  const double seen = hands.sight_hammers(keys, set, targets)[0];
  const double line = (height(Key{5}) + height(Key{9})) / 2;
  EXPECT_NEAR(seen, 46 + line - height(Key{7}), 1e-9);
}

}  // namespace
}  // namespace batten::workshop

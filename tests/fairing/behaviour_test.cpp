// What must not matter to the curve, what must, and what readings it refuses.
#include "core/fairing/fair_curve.hpp"
#include "core/keyboard/samples.hpp"
#include "workshop/string_line.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace batten {
namespace {

struct Piano {
  std::vector<Section> sections;
  std::vector<HeightReading> readings;
};

// A random piano, one of its readings off by up to 3 mm, so that doubt takes part.
Piano make_piano(std::uint64_t seed) {
  workshop::Chance chance(seed);
  const workshop::StringLine line = make_string_line(chance);
  Piano p{line.sections, take_readings(line, propose_fuller_samples(line.sections), chance)};
  const int last = static_cast<int>(p.readings.size()) - 1;
  p.readings[static_cast<std::size_t>(chance.between(0, last))].height +=
      3 * (2 * chance.uniform() - 1) * millimetre;
  return p;
}

rc::Gen<std::uint64_t> any_seed() { return rc::gen::inRange<std::uint64_t>(0, 10'000'000); }

bool near(Length a, Length b, double mm) { return std::abs((a - b).in(millimetre)) <= mm; }

// Rounding alone: measured below 1e-9 mm over 1,000 pianos.
constexpr double rounding = 1e-8;

RC_GTEST_PROP(FairCurve, IsMirroredWithTheKeyboard, ()) {
  const Piano p = make_piano(*any_seed());
  const auto mirrored = [](Key k) { return Key{89 - k.number}; };
  Piano q;
  for (auto s = p.sections.rbegin(); s != p.sections.rend(); ++s)
    q.sections.push_back({mirrored(s->last), mirrored(s->first)});
  for (const HeightReading& r : p.readings)
    q.readings.push_back({mirrored(r.key), r.height, r.uncertainty});
  const FairCurve a = *fair(p.sections, p.readings), b = *fair(q.sections, q.readings);
  for (int k = 1; k <= 88; ++k) {
    RC_ASSERT(near(a.at(Key{k})->height, b.at(Key{89 - k})->height, rounding));
    RC_ASSERT(near(a.at(Key{k})->sd, b.at(Key{89 - k})->sd, rounding));
  }
  for (std::size_t i = 0; i < p.readings.size(); ++i)
    RC_ASSERT(std::abs(a.judgements[i].chance_wrong - b.judgements[i].chance_wrong) < rounding);
}

RC_GTEST_PROP(FairCurve, MovesWithTheDatumAndNotOtherwise, ()) {
  const Piano p = make_piano(*any_seed());
  const Length shift = *rc::gen::element(100.0, -50.0) * millimetre;
  Piano q = p;
  for (HeightReading& r : q.readings) r.height += shift;
  const FairCurve a = *fair(p.sections, p.readings), b = *fair(q.sections, q.readings);
  for (int k = 1; k <= 88; ++k) {
    RC_ASSERT(near(a.at(Key{k})->height + shift, b.at(Key{k})->height, rounding));
    RC_ASSERT(near(a.at(Key{k})->sd, b.at(Key{k})->sd, rounding));
  }
  for (std::size_t i = 0; i < p.readings.size(); ++i) {
    RC_ASSERT(std::abs(a.judgements[i].chance_wrong - b.judgements[i].chance_wrong) < rounding);
    RC_ASSERT(a.judgements[i].doubt == b.judgements[i].doubt);
  }
  RC_ASSERT(a.next.size() == b.next.size());
  for (std::size_t i = 0; i < a.next.size(); ++i) RC_ASSERT(a.next[i].key == b.next[i].key);
}

RC_GTEST_PROP(FairCurve, DoesNotAskInWhichOrderItWasRead, ()) {
  const Piano p = make_piano(*any_seed());
  Piano q = p;
  std::reverse(q.readings.begin(), q.readings.end());
  std::rotate(q.readings.begin(), q.readings.begin() + 5, q.readings.end());
  const FairCurve a = *fair(p.sections, p.readings), b = *fair(q.sections, q.readings);
  for (int k = 1; k <= 88; ++k) {
    RC_ASSERT(near(a.at(Key{k})->height, b.at(Key{k})->height, rounding));
    RC_ASSERT(near(a.at(Key{k})->sd, b.at(Key{k})->sd, rounding));
  }
  // Judgements come in the order of the readings they judge.
  for (std::size_t i = 0; i < p.readings.size(); ++i)
    for (std::size_t j = 0; j < q.readings.size(); ++j)
      if (q.readings[j].key == p.readings[i].key)
        RC_ASSERT(std::abs(a.judgements[i].chance_wrong - b.judgements[j].chance_wrong) <
                  rounding);
}

// A piano twice as uneven, read half as well, under a model twice as wide: the same picture at
// twice the scale. The prior offset alone keeps its 50 mm, which changes less than is allowed here.
RC_GTEST_PROP(FairCurve, KeepsItsShapeWhenTheScaleChanges, ()) {
  const Piano p = make_piano(*any_seed());
  Piano q = p;
  const Length datum = 195 * millimetre;
  for (HeightReading& r : q.readings) {
    r.height = datum + 2 * (r.height - datum);
    r.uncertainty = 2 * r.uncertainty;
  }
  FairingOptions o;
  FairingOptions twice = o;
  twice.amplitude = 2 * o.amplitude;
  twice.slope = 2 * o.slope;
  twice.bow = 2 * o.bow;
  twice.wrong_spread = 2 * o.wrong_spread;
  const FairCurve a = *fair(p.sections, p.readings, o), b = *fair(q.sections, q.readings, twice);
  for (int k = 1; k <= 88; ++k) {
    RC_ASSERT(near(datum + 2 * (a.at(Key{k})->height - datum), b.at(Key{k})->height, 5e-3));
    RC_ASSERT(std::abs(b.at(Key{k})->sd / a.at(Key{k})->sd / 2 - 1) < 5e-3);
  }
}

std::vector<Section> one_section() { return {{Key{40}, Key{61}}}; }
std::vector<HeightReading> five_readings() {
  std::vector<HeightReading> list;
  for (const auto& [key, height] :
       {std::pair(40, 195.10), std::pair(44, 195.32), std::pair(51, 195.48), std::pair(56, 195.41),
        std::pair(61, 195.15)})
    list.push_back({Key{key}, height * millimetre, 0.1 * millimetre});
  return list;
}

FairingOptions trusting() {
  FairingOptions o;
  o.nodes = 1;
  o.wrong_share = 1e-12;
  return o;
}

TEST(FairCurve, GrowsWiderWithTheReadingsUncertainty) {
  auto readings = five_readings();
  const FairCurve fine = *fair(one_section(), readings, trusting());
  for (HeightReading& r : readings) r.uncertainty = 0.2 * millimetre;
  const FairCurve coarse = *fair(one_section(), readings, trusting());
  for (int k = 40; k <= 61; ++k) EXPECT_GT(coarse.at(Key{k})->sd, fine.at(Key{k})->sd);
}

// JCGM 100:2008, 4.2.3: the mean of n readings has the standard deviation of one over sqrt(n).
TEST(FairCurve, TakesFourReadingsForOneTwiceAsGood) {
  auto one = five_readings(), four = one;
  one[2].uncertainty = 0.05 * millimetre;
  const double heights[] = {195.33, 195.58, 195.41, 195.60};  // mean 195.48
  four[2].height = heights[0] * millimetre;
  for (int i = 1; i < 4; ++i) four.push_back({Key{51}, heights[i] * millimetre, 0.1 * millimetre});
  const FairCurve a = *fair(one_section(), one, trusting());
  const FairCurve b = *fair(one_section(), four, trusting());
  for (int k = 40; k <= 61; ++k) {
    EXPECT_NEAR(a.at(Key{k})->height.in(millimetre), b.at(Key{k})->height.in(millimetre), 1e-6);
    EXPECT_NEAR(a.at(Key{k})->sd / b.at(Key{k})->sd, 1, 1e-6);
  }
  EXPECT_LT(b.at(Key{51})->sd, fair(one_section(), five_readings(), trusting())->at(Key{51})->sd);
}

TEST(FairCurve, KnowsNothingWithoutReadings) {
  const std::vector<Section> two{{Key{18}, Key{39}}, {Key{40}, Key{61}}};
  const FairCurve curve = *fair(two, five_readings());
  ASSERT_EQ(curve.sections.size(), 2U);
  EXPECT_EQ(curve.sections[0].reading_count, 0);
  EXPECT_EQ(curve.sections[1].reading_count, 5);
  for (const FairPoint& p : curve.sections[0].points) EXPECT_TRUE(std::isinf(p.sd.si()));
  for (const FairPoint& p : curve.sections[1].points) EXPECT_LT(p.sd, 0.2 * millimetre);
  // Nothing read at all: no judgement, and the first asked for lies in a section.
  const FairCurve none = *fair(two, {});
  EXPECT_TRUE(none.judgements.empty());
  ASSERT_FALSE(none.next.empty());
  EXPECT_NE(none.at(none.next.front().key), nullptr);
  EXPECT_EQ(none.at(Key{17}), nullptr);
  EXPECT_EQ(none.at(Key{62}), nullptr);
}

// One reading says how high, not how steep. At its key the band holds the reading's own error and
// the chance of 0.03 that it is wrong by 1.5 mm: sqrt(0.1^2 + 0.03 * 1.5^2) = 0.28 mm. At the far
// end it is that of the rise from end to end, 3 mm by default, and of the curve's departure from a
// line.
TEST(FairCurve, IsWideFromOneReadingAndLessSoFromTwo) {
  std::vector<HeightReading> readings{{Key{40}, 195 * millimetre, 0.1 * millimetre}};
  const FairCurve one = *fair(one_section(), readings);
  EXPECT_NEAR(one.at(Key{40})->sd.in(millimetre), std::sqrt(0.01 + 0.03 * 2.25), 0.01);
  EXPECT_NEAR(one.at(Key{40})->height.in(millimetre), 195, 0.01);
  EXPECT_GT(one.at(Key{61})->sd, 2.5 * millimetre);
  EXPECT_LT(one.at(Key{61})->sd, 4 * millimetre);
  readings.push_back({Key{61}, 195.5 * millimetre, 0.1 * millimetre});
  const FairCurve two = *fair(one_section(), readings);
  EXPECT_LT(two.at(Key{61})->sd, 0.3 * millimetre);
  EXPECT_GT(two.at(Key{50})->sd, 0.3 * millimetre);
  EXPECT_NEAR(two.at(Key{50})->height.in(millimetre), 195.25, 0.1);
}

// The band is that of the curve: between readings it is wider than at them.
TEST(FairCurve, IsSurestWhereItWasRead) {
  const FairCurve c = *fair(one_section(), five_readings());
  EXPECT_LT(c.at(Key{51})->sd, c.at(Key{47})->sd);
  EXPECT_LT(c.at(Key{44})->sd, c.at(Key{47})->sd);
}

TEST(FairCurve, RefusesReadingsOutsideEverySection) {
  auto readings = five_readings();
  readings.push_back({Key{62}, 195 * millimetre, 0.1 * millimetre});
  const auto curve = fair(one_section(), readings);
  ASSERT_FALSE(curve);
  EXPECT_NE(curve.error().happened.find("A#5"), std::string::npos);
}

TEST(FairCurve, RefusesNumbersItCannotUse) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinite = std::numeric_limits<double>::infinity();
  for (const auto& [height, sd] :
       {std::pair(195.0, 0.0), std::pair(195.0, -0.1), std::pair(195.0, nan),
        std::pair(195.0, infinite), std::pair(nan, 0.1), std::pair(infinite, 0.1)}) {
    auto readings = five_readings();
    readings[3].height = height * millimetre;
    readings[3].uncertainty = sd * millimetre;
    const auto curve = fair(one_section(), readings);
    ASSERT_FALSE(curve) << height << " ± " << sd;
    EXPECT_NE(curve.error().happened.find("E5"), std::string::npos);
    EXPECT_FALSE(curve.error().todo.empty());
  }
}

TEST(FairCurve, RefusesMoreReadingsThanASectionCanUse) {
  FairingOptions o = trusting();
  std::vector<HeightReading> readings(301, {Key{50}, 195 * millimetre, 0.1 * millimetre});
  EXPECT_FALSE(fair(one_section(), readings, o));
  readings.resize(100);
  EXPECT_TRUE(fair(one_section(), readings, o));
}

// sqrt((9 + 16) / 2)
TEST(Evenness, IsARootMeanSquare) {
  EXPECT_NEAR(evenness({3 * millimetre, -4 * millimetre}).in(millimetre), std::sqrt(12.5), 1e-12);
  EXPECT_EQ(evenness({}), Length());
}

}  // namespace
}  // namespace batten

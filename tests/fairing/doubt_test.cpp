// Wrong readings: flagged, not followed.
#include "core/fairing/fair_curve.hpp"
#include "core/keyboard/samples.hpp"
#include "workshop/string_line.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

namespace batten {
namespace {

// 22 keys, a bow of 0.4 mm; readings with errors of at most 0.09 mm, made up.
const std::vector<Section> section{{Key{40}, Key{61}}};

Length truth(int key) {
  const double t = (2.0 * key - 101) / 21;
  return (195 + 0.3 * t - 0.4 * t * t) * millimetre;
}

std::vector<HeightReading> read_at(const std::vector<int>& keys) {
  const double error[] = {0.04, -0.07, 0.02, 0.09, -0.05, -0.02, 0.06, 0.01, -0.08, 0.03, -0.03};
  std::vector<HeightReading> list;
  for (std::size_t i = 0; i < keys.size(); ++i)
    list.push_back({Key{keys[i]}, truth(keys[i]) + error[i % std::size(error)] * millimetre,
                    0.1 * millimetre});
  return list;
}

std::vector<HeightReading> eight_readings() { return read_at({40, 41, 44, 48, 51, 56, 60, 61}); }

std::vector<HeightReading> all_readings() {
  std::vector<int> keys;
  for (int k = 40; k <= 61; ++k) keys.push_back(k);
  return read_at(keys);
}

// Largest distance between two curves, mm.
double distance(const FairCurve& a, const FairCurve& b) {
  double most = 0;
  for (const SectionCurve& s : a.sections)
    for (const FairPoint& p : s.points)
      most = std::max(most, std::abs((p.height - b.at(p.key)->height).in(millimetre)));
  return most;
}

class AWrongReading : public testing::TestWithParam<double> {};

// The aim: doubted, and the curve no more than 0.1 mm from where it would be without the reading.
TEST_P(AWrongReading, IsFlaggedAndNotFollowed) {
  for (const double sign : {1.0, -1.0})
    for (const std::size_t at : {std::size_t{2}, std::size_t{4}, std::size_t{5}}) {
      auto with = eight_readings(), without = with;
      with[at].height += sign * GetParam() * millimetre;
      without.erase(without.begin() + static_cast<std::ptrdiff_t>(at));
      const FairCurve a = *fair(section, with), b = *fair(section, without);
      EXPECT_GE(a.judgements[at].doubt, Doubt::flag);
      EXPECT_LT(distance(a, b), 0.1) << sign * GetParam() << " mm at reading " << at;
      for (std::size_t i = 0; i < with.size(); ++i)
        if (i != at) {
          EXPECT_LT(a.judgements[i].doubt, Doubt::flag) << i;
        }
    }
}

// What the others say of it does not depend on how wrong it is, once it is known to be.
TEST_P(AWrongReading, IsExpectedWhereTheOthersSay) {
  auto with = eight_readings();
  with[4].height += GetParam() * millimetre;
  const ReadingJudgement j = fair(section, with)->judgements[4];
  EXPECT_NEAR(j.expected.in(millimetre), truth(51).in(millimetre), 0.25);
  EXPECT_GT(j.expected_sd, 0.1 * millimetre);
  EXPECT_LT(j.expected_sd, 0.3 * millimetre);
}

INSTANTIATE_TEST_SUITE_P(ByItsSize, AWrongReading, testing::Values(1.0, 10.0, 100.0));

// Ten and a hundred millimetres are slips of the ruler or the pen: whatever the piano, never
// followed. The most that the curve moved in 10,000 such pianos was 0.16 mm.
RC_GTEST_PROP(AGrossSlip, IsCalledWrongOnAnyPiano, ()) {
  workshop::Chance chance(*rc::gen::inRange<std::uint64_t>(0, 10'000'000));
  const double slip = *rc::gen::element(10.0, -10.0, 100.0, -100.0);
  const workshop::StringLine line = make_string_line(chance);
  auto readings = take_readings(line, propose_fuller_samples(line.sections), chance);
  const auto at =
      static_cast<std::size_t>(chance.between(0, static_cast<int>(readings.size()) - 1));
  readings[at].height += slip * millimetre;
  const FairCurve with = *fair(line.sections, readings);
  RC_ASSERT(with.judgements[at].doubt == Doubt::wrong);
  auto rest = readings;
  rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(at));
  const FairCurve without = *fair(line.sections, rest);
  for (int k = 1; k <= 88; ++k)
    RC_ASSERT(abs(with.at(Key{k})->height - without.at(Key{k})->height) < 0.3 * millimetre);
}

TEST(WrongReadings, ThreeInASectionReadThroughoutAreFound) {
  auto with = all_readings(), without = with;
  const std::vector<std::size_t> at{3, 9, 16};
  const double off[] = {1.2, -1.5, 2.0};
  for (std::size_t i = 0; i < at.size(); ++i) with[at[i]].height += off[i] * millimetre;
  for (auto i = at.rbegin(); i != at.rend(); ++i)
    without.erase(without.begin() + static_cast<std::ptrdiff_t>(*i));
  const FairCurve a = *fair(section, with), b = *fair(section, without);
  for (std::size_t i = 0; i < with.size(); ++i) {
    const bool planted = std::ranges::find(at, i) != at.end();
    EXPECT_EQ(a.judgements[i].doubt == Doubt::wrong, planted) << i;
  }
  EXPECT_LT(distance(a, b), 0.1);
}

// It once did: the residuals it causes at its neighbours were taken for the spread of their errors,
// and the doubt of a reading beside it fell from 0.42 to 0.03.
TEST(WrongReadings, AGrossSlipHidesNoSmallOne) {
  workshop::Chance chance(349);
  const workshop::StringLine line = make_string_line(chance);
  auto rest = take_readings(line, propose_fuller_samples(line.sections), chance);
  auto slipped = rest;
  slipped.front().height -= 100 * millimetre;
  rest.erase(rest.begin());
  const FairCurve with = *fair(line.sections, slipped), without = *fair(line.sections, rest);
  EXPECT_EQ(with.judgements.front().doubt, Doubt::wrong);
  EXPECT_GT(without.judgements.front().chance_wrong, 0.3);
  for (std::size_t i = 0; i < rest.size(); ++i)
    EXPECT_NEAR(with.judgements[i + 1].chance_wrong, without.judgements[i].chance_wrong, 0.1);
}

TEST(WrongReadings, NeighboursWrongTogetherAreFound) {
  auto readings = all_readings();
  readings[9].height += 1.5 * millimetre;
  readings[10].height += 1.5 * millimetre;
  const FairCurve c = *fair(section, readings);
  EXPECT_EQ(c.judgements[9].doubt, Doubt::wrong);
  EXPECT_EQ(c.judgements[10].doubt, Doubt::wrong);
}

// A reading of its own key settles it.
TEST(WrongReadings, OneRepeatTellsWhich) {
  auto readings = read_at({40, 44, 51, 56, 61});
  readings[4].height += 1 * millimetre;  // at the end, among five: cannot be told alone
  const FairCurve before = *fair(section, readings);
  EXPECT_LT(before.judgements[4].chance_wrong, 0.9);
  readings.push_back({Key{61}, truth(61), 0.1 * millimetre});
  readings.push_back({Key{61}, truth(61) + 0.05 * millimetre, 0.1 * millimetre});
  const FairCurve after = *fair(section, readings);
  EXPECT_GT(after.judgements[4].chance_wrong, 0.9);
  EXPECT_LT(after.judgements[5].chance_wrong, 0.1);
  EXPECT_LT(after.judgements[6].chance_wrong, 0.1);
}

TEST(WrongReadings, HonestOnesAreLeftAlone) {
  for (const auto& readings : {eight_readings(), all_readings()}) {
    const FairCurve c = *fair(section, readings);
    for (const ReadingJudgement& j : c.judgements) {
      EXPECT_EQ(j.doubt, Doubt::none);
      EXPECT_GE(j.chance_wrong, 0);
      EXPECT_LE(j.chance_wrong, 0.05);
    }
  }
}

TEST(WrongReadings, ChancesFollowTheShareAssumed) {
  auto readings = eight_readings();
  readings[4].height += 0.5 * millimetre;
  double last = 0;
  for (const double share : {0.001, 0.01, 0.1, 0.3}) {
    FairingOptions o;
    o.wrong_share = share;
    const double chance = fair(section, readings, o)->judgements[4].chance_wrong;
    EXPECT_GT(chance, last);
    last = chance;
  }
}

}  // namespace
}  // namespace batten

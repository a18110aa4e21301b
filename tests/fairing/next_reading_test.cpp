// Which note to read next: doubts first, then what tells most.
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

// Hyperparameters held and every reading trusted: then what a reading does to the band does not
// depend on what it says, and the drop can be had by really adding it.
FairingOptions held() {
  FairingOptions o;
  o.nodes = 1;
  o.wrong_share = 1e-12;
  return o;
}

double rms_sd(const SectionCurve& s) {
  std::vector<Length> sds;
  for (const FairPoint& p : s.points) sds.push_back(p.sd);
  return evenness(sds).in(millimetre);
}

struct Piano {
  workshop::StringLine line;
  std::vector<HeightReading> readings;
};

Piano make_piano(std::uint64_t seed, bool fuller = false) {
  workshop::Chance chance(seed);
  Piano p;
  p.line = make_string_line(chance);
  p.readings = take_readings(
      p.line, fuller ? propose_fuller_samples(p.line.sections) : propose_samples(p.line.sections),
      chance);
  return p;
}

// Fall of the section's RMS standard deviation when `key` is really read.
double real_drop(const Piano& p, Key key) {
  const auto s = static_cast<std::size_t>(section_of(p.line.sections, key));
  const double before = rms_sd(fair(p.line.sections, p.readings, held())->sections[s]);
  auto more = p.readings;
  more.push_back({key, p.line.at(key), 0.1 * millimetre});
  return before - rms_sd(fair(p.line.sections, more, held())->sections[s]);
}

RC_GTEST_PROP(NextReading, ExpectedDropIsTheRealOne, ()) {
  const Piano p = make_piano(*rc::gen::inRange<std::uint64_t>(0, 10'000'000));
  const FairCurve curve = *fair(p.line.sections, p.readings, held());
  RC_ASSERT(curve.next.size() == 4U);  // one a section
  for (const NextReading& n : curve.next) {
    RC_ASSERT(!n.settles_doubt);
    // Measured: 2e-9 mm.
    RC_ASSERT(std::abs(n.drop.in(millimetre)-real_drop(p, n.key)) < 2e-8);
  }
}

// Every key of a section tried: none would tell more.
TEST(NextReading, IsTheBestOfItsSection) {
  const Piano p = make_piano(31);
  const FairCurve curve = *fair(p.line.sections, p.readings, held());
  ASSERT_EQ(curve.next.size(), 4U);
  const Section& s =
      p.line.sections[static_cast<std::size_t>(section_of(p.line.sections, curve.next[0].key))];
  for (Key k = s.first; k <= s.last; ++k.number)
    EXPECT_LE(real_drop(p, k), curve.next[0].drop.in(millimetre) + 1e-7) << note_name(k);
  for (std::size_t i = 1; i < 4; ++i) EXPECT_GE(curve.next[i - 1].drop, curve.next[i].drop);
}

// The section that was not read is asked for before one that was.
TEST(NextReading, GoesFirstWhereNothingIsKnown) {
  Piano p = make_piano(32);
  const Section empty = p.line.sections[2];
  std::erase_if(p.readings, [&](const HeightReading& r) { return empty.contains(r.key); });
  const FairCurve curve = *fair(p.line.sections, p.readings);
  EXPECT_TRUE(empty.contains(curve.next.front().key));
}

TEST(NextReading, ComesAfterTheDoubts) {
  Piano p = make_piano(33, true);
  const auto at = p.readings.size() / 2;
  p.readings[at].height += 1 * millimetre;
  const FairCurve curve = *fair(p.line.sections, p.readings);
  ASSERT_GE(curve.judgements[at].doubt, Doubt::flag);
  EXPECT_LE(curve.next.size(), 5U);
  EXPECT_TRUE(std::ranges::any_of(curve.next, [&](const NextReading& n) {
    return n.settles_doubt && n.key == p.readings[at].key;
  }));
  EXPECT_TRUE(std::ranges::is_partitioned(curve.next,
                                          [](const NextReading& n) { return n.settles_doubt; }));
  for (std::size_t i = 0; i < curve.next.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) EXPECT_NE(curve.next[i].key, curve.next[j].key);
}

// The least decided first: the one whose chance of being wrong is nearest a half.
TEST(NextReading, TakesTheLeastDecidedDoubtFirst) {
  int compared = 0;
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    Piano p = make_piano(60 + seed);
    p.readings[2].height += 1 * millimetre;
    p.readings[12].height -= 0.6 * millimetre;
    const FairCurve curve = *fair(p.line.sections, p.readings);
    double last = 1;
    for (const NextReading& n : curve.next) {
      if (!n.settles_doubt) continue;
      double open = 0;
      for (std::size_t i = 0; i < p.readings.size(); ++i)
        if (p.readings[i].key == n.key)
          open = std::min(curve.judgements[i].chance_wrong, 1 - curve.judgements[i].chance_wrong);
      EXPECT_LE(open, last);
      if (last < 1) ++compared;
      last = open;
    }
  }
  EXPECT_GT(compared, 10);
}

// Readings of one key that will not agree: after four there is nothing more to learn from a fifth.
TEST(NextReading, ADoubtfulKeyReadFourTimesIsNotAskedAgain) {
  Piano p = make_piano(34, true);
  const Key key = p.readings[p.readings.size() / 2].key;
  const Length height = p.readings[p.readings.size() / 2].height;
  bool asked = false;
  for (const double off : {0.5, -0.5, 0.45}) {
    p.readings.push_back({key, height + off * millimetre, 0.1 * millimetre});
    const FairCurve curve = *fair(p.line.sections, p.readings);
    const auto n = std::ranges::count_if(p.readings, [&](const auto& r) { return r.key == key; });
    const bool open = std::ranges::any_of(
        curve.next, [&](const NextReading& r) { return r.settles_doubt && r.key == key; });
    if (n < 4) {
      EXPECT_TRUE(open) << n;
      asked = true;
    } else {
      EXPECT_FALSE(open);
      bool doubtful = false;  // and not because the doubt was gone
      for (std::size_t i = 0; i < p.readings.size(); ++i)
        doubtful |= p.readings[i].key == key && curve.judgements[i].chance_wrong > 0.02 &&
                    curve.judgements[i].chance_wrong < 0.98;
      EXPECT_TRUE(doubtful);
    }
  }
  EXPECT_TRUE(asked);
}

// A key whose only reading is surely wrong still has no good one.
TEST(NextReading, AsksForAGoodOneInPlaceOfAWrongOne) {
  Piano p = make_piano(35, true);
  const auto at = p.readings.size() / 2;
  p.readings[at].height += 50 * millimetre;
  const FairCurve curve = *fair(p.line.sections, p.readings);
  ASSERT_GT(curve.judgements[at].chance_wrong, 0.98);
  EXPECT_TRUE(std::ranges::any_of(curve.next, [&](const NextReading& n) {
    return n.settles_doubt && n.key == p.readings[at].key;
  }));
}

}  // namespace
}  // namespace batten

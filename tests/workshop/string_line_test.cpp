// Invented string lines are what their laws say.
#include "workshop/string_line.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace batten::workshop {
namespace {

StringLaw flat() {
  StringLaw law;
  law.offset = law.tilt = law.bow = law.cubic = law.wave = law.scatter = Length();
  return law;
}

// Root mean square of what `law` makes of a section, about 195 mm, over many pianos.
double departure(const StringLaw& law) {
  std::vector<Length> all;
  for (std::uint64_t seed = 0; seed < 1000; ++seed) {
    Chance chance(40'000 + seed);
    for (const Length h : make_string_line(chance, law).heights)
      all.push_back(h - 195 * millimetre);
  }
  return evenness(all).in(millimetre);
}

TEST(StringLine, CoversTheCompassInFourSections) {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    Chance chance(seed);
    const StringLine line = make_string_line(chance);
    ASSERT_EQ(line.sections.size(), 4U);
    ASSERT_EQ(line.heights.size(), 88U);
    int next = 1;
    for (const Section& s : line.sections) {
      EXPECT_EQ(s.first.number, next);
      EXPECT_GE(s.count(), 20);
      EXPECT_LE(s.count(), 26);
      next = s.last.number + 1;
    }
    EXPECT_EQ(next, 89);
  }
}

// Mean squares over keys: of t 1/3 + 2/(3(n-1)), of t^2 - 1/3 about 4/45, of a sine 1/2 (closed
// forms; sections of 20 to 26 keys differ from the integral by a tenth at most).
TEST(StringLine, DepartsAsItsLawSays) {
  EXPECT_EQ(departure(flat()), 0);
  StringLaw law = flat();
  law.offset = 1 * millimetre;
  EXPECT_NEAR(departure(law), 1, 0.05);
  law = flat();
  law.tilt = 1 * millimetre;
  EXPECT_NEAR(departure(law), std::sqrt(1.0 / 3 + 2.0 / (3 * 21)), 0.05);
  law = flat();
  law.bow = 1 * millimetre;
  EXPECT_NEAR(departure(law), std::sqrt(4.0 / 45), 0.05);
  law = flat();
  law.wave = 1 * millimetre;
  EXPECT_NEAR(departure(law), std::sqrt(0.5), 0.02);
  law = flat();
  law.scatter = 1 * millimetre;
  EXPECT_NEAR(departure(law), 1, 0.02);
}

TEST(StringLine, IsTheSameForTheSameSeed) {
  Chance a(7), b(7), c(8);
  const auto line = make_string_line(a).heights;
  EXPECT_EQ(line, make_string_line(b).heights);
  EXPECT_NE(line, make_string_line(c).heights);
}

// Errors of many readings of one key, mm.
std::vector<Length> errors(const ReadingLaw& law, std::size_t from, std::size_t step) {
  Chance chance(9);
  const StringLine line = make_string_line(chance);
  const auto readings = take_readings(line, std::vector<Key>(20'000, Key{30}), chance, law);
  std::vector<Length> out;
  for (std::size_t i = from; i < readings.size(); i += step) {
    EXPECT_EQ(readings[i].uncertainty, law.noise);
    out.push_back(readings[i].height - line.at(Key{30}));
  }
  return out;
}

double mean(const std::vector<Length>& v) {
  double sum = 0;
  for (Length l : v) sum += l.in(millimetre);
  return sum / static_cast<double>(v.size());
}

TEST(Readings, AreOffByTheirNoise) {
  ReadingLaw law;
  EXPECT_NEAR(evenness(errors(law, 0, 1)).in(millimetre), 0.1, 0.002);
  EXPECT_NEAR(mean(errors(law, 0, 1)), 0, 0.003);
}

// Student's t with 3 degrees of freedom has variance 3: scaled back, the same 0.1 mm, but 1.4 % of
// errors beyond three standard deviations (t of 5.196) instead of 0.27 %.
TEST(Readings, MayHaveHeavyTails) {
  ReadingLaw law;
  law.heavy_tailed = true;
  const auto list = errors(law, 0, 1);
  EXPECT_NEAR(evenness(list).in(millimetre), 0.1, 0.015);
  double far = 0;
  for (Length l : list) far += abs(l) > 0.3 * millimetre ? 1 : 0;
  EXPECT_NEAR(far / static_cast<double>(list.size()), 0.0138, 0.0035);
}

TEST(Readings, MayComeFromTwoGauges) {
  ReadingLaw law;
  law.second_gauge_offset = 0.2 * millimetre;
  EXPECT_NEAR(mean(errors(law, 0, 2)), 0, 0.004);
  EXPECT_NEAR(mean(errors(law, 1, 2)), 0.2, 0.004);
}

}  // namespace
}  // namespace batten::workshop

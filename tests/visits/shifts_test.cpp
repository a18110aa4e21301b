// Means, errors and findings: against figures worked by hand, and on noise that is known to be
// noise.
#include "core/regulation/visits/visits.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

namespace batten {
namespace {

std::vector<NoteDifference> differences(std::initializer_list<double> values, double sd) {
  std::vector<NoteDifference> notes;
  int key = 30;
  for (const double v : values) notes.push_back({Key{key++}, v, sd});
  return notes;
}

// Equal weights: the mean is the plain one. 0.4, 0.6, 0.5, 0.7 have mean 0.55 and scatter less than
// readings of 0.2 would: Q = (0.0225+0.0025+0.0025+0.0225)/0.04 = 1.25 on 3 degrees. Nothing of
// their own, and the error is that of the readings, 0.2/√4 = 0.1; t = 5.5 on 3 degrees: 0.0118
// (closed form for 3 degrees: 1 − (2/π)(x/(1+x²) + atan x), x = t/√3).
TEST(Shifts, OfNotesThatMoveTogether) {
  const Shift s = shift_of(differences({0.4, 0.6, 0.5, 0.7}, 0.2));
  EXPECT_EQ(s.notes, 4);
  EXPECT_EQ(s.first, Key{30});
  EXPECT_EQ(s.last, Key{33});
  EXPECT_NEAR(s.mean, 0.55, 1e-12);
  EXPECT_NEAR(s.error, 0.1, 1e-12);
  EXPECT_EQ(s.spread, 0.0);
  const double x = 5.5 / std::sqrt(3.0);
  EXPECT_NEAR(s.chance, 1 - 2 / std::numbers::pi * (x / (1 + x * x) + std::atan(x)), 1e-10);
}

// −1, 0, 1 read to 0.1: Q = 2/0.01 = 200 on 2 degrees; by the moments the notes' own variance is
// (Q − 2)/(Σw − Σw²/Σw) = 198/(300 − 100) = 0.99. The chance of the scatter is exp(−100). The error
// of the mean is √(1/3) = 0.577, as from the three values alone.
TEST(Shifts, OfNotesThatGoEachItsWay) {
  const Shift s = shift_of(differences({-1, 0, 1}, 0.1));
  EXPECT_NEAR(s.mean, 0, 1e-12);
  EXPECT_NEAR(*s.spread, std::sqrt(0.99), 1e-12);
  EXPECT_NEAR(s.spread_chance / std::exp(-100.0), 1, 1e-6);
  EXPECT_NEAR(s.error, std::sqrt(1.0 / 3), 1e-12);
  EXPECT_NEAR(s.chance, 1, 1e-12);
}

// One note has its readings' noise only: 0.5 at 0.2 is 2.5 of it, 1.24 % (any normal table).
TEST(Shifts, OfOneNote) {
  const Shift s = shift_of(differences({0.5}, 0.2));
  EXPECT_EQ(s.error, 0.2);
  EXPECT_FALSE(s.spread);
  EXPECT_NEAR(s.chance, 0.01242, 1e-5);
}

// A piano's worth of looks: eight readings, all notes and three registers each.
std::vector<std::vector<Shift>> looks(std::mt19937& chance, double own_sd, double shift) {
  std::normal_distribution<double> normal;
  std::vector<std::vector<Shift>> families;
  for (int reading = 0; reading < 8; ++reading) {
    std::vector<Shift> shifts;
    std::vector<NoteDifference> all;
    for (int section = 0; section < 3; ++section) {
      std::vector<NoteDifference> here;
      const int count = 3 + (reading + 3 * section) % 8;
      for (int i = 0; i < count; ++i) {
        const double sd = 0.1 + 0.1 * (i % 3);
        here.push_back({Key{static_cast<int>(all.size()) + i},
                        shift + own_sd * normal(chance) + sd * normal(chance), sd});
      }
      all.insert(all.end(), here.begin(), here.end());
      shifts.push_back(shift_of(here));
    }
    shifts.push_back(shift_of(all));
    families.push_back(std::move(shifts));
  }
  return families;
}

struct Counts {
  int means = 0, spreads = 0, any = 0, all = 0;
};

Counts count_findings(double own_sd, double shift, int runs) {
  std::mt19937 chance(1995);
  Counts counts;
  for (int run = 0; run < runs; ++run) {
    auto families = looks(chance, own_sd, shift);
    std::vector<std::vector<Shift>*> refer;
    for (auto& f : families) refer.push_back(&f);
    EXPECT_EQ(mark_findings(refer), 64);  // 32 means, 32 scatters
    bool any = false;
    for (const auto& f : families)
      for (const Shift& s : f) {
        counts.means += s.beyond_noise;
        counts.spreads += s.spread_beyond_noise;
        any = any || s.beyond_noise || s.spread_beyond_noise;
        ++counts.all;
      }
    counts.any += any;
  }
  return counts;
}

// Where everything is noise every finding is false, so that the false-finding rate is the chance of
// any at all: 5 % at most (Benjamini and Hochberg's theorem), 50 of 1000 and three standard
// deviations of such a count.
TEST(Shifts, NoiseIsHardlyEverCalledAMove) {
  const Counts c = count_findings(0, 0, 1000);
  EXPECT_LE(c.any, 50 + 3 * 7);
}

// Notes that wander each their own way about nothing: scatter there is, but no move of the mean.
// Among all findings the false ones – means – stay below a twentieth.
TEST(Shifts, WanderingNotesAreNoMoveOfTheRegister) {
  const Counts c = count_findings(0.4, 0, 300);
  EXPECT_GT(c.spreads, c.all / 4);
  EXPECT_LE(c.means, 0.05 * (c.means + c.spreads));
}

// And a move of three errors of a reading is seen nearly everywhere.
TEST(Shifts, MovesAreFound) {
  const Counts c = count_findings(0.1, 0.6, 100);
  EXPECT_GT(c.means, c.all * 3 / 4);
}

}  // namespace
}  // namespace batten

// Advice over many invented pianos, each with its own hidden truth.
#include "tests/line/advice_count.hpp"
#include "tests/line/journal_page.hpp"
#include "workshop/worn_piano.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

namespace batten::line_test {

namespace {

struct Tally {
  AdviceCount count;
  double before = 0, after = 0;
  int moved = 0;
};

Tally over_pianos(int pianos, const workshop::WornPianoLaw& law) {
  Tally tally;
  for (int i = 0; i < pianos; ++i) {
    workshop::Chance chance(1000 + static_cast<std::uint64_t>(i));
    const workshop::WornPiano piano = workshop::make_worn_piano(chance, law);
    Page page;
    for (const EntryContent& c : workshop::first_look(piano, chance)) page.write(c);
    const Line line = page.line();
    const AdviceCount c = count_advice(line, piano.targets, piano.hammers);
    tally.count.moves += c.moves;
    tally.count.right += c.right;
    tally.count.wrong += c.wrong;
    tally.count.wrong_beyond += c.wrong_beyond;
    const Followed f =
        follow_by_turns(line, piano.targets, piano.hammers, piano.crown_per_turn, chance);
    tally.before += f.before * f.before * c.moves;
    tally.after += f.after * f.after * c.moves;
    tally.moved += c.moves;
  }
  tally.before = std::sqrt(tally.before / tally.moved);
  tally.after = std::sqrt(tally.after / tally.moved);
  return tally;
}

void report(const char* what, const Tally& t) {
  std::printf(
      "%s: %d moves, %d in a wrong direction, %d of them beyond %.2f mm; RMS of the moved "
      "notes %.3f mm before, %.3f mm after\n",
      what, t.count.moves, t.count.wrong, t.count.wrong_beyond, beyond_noise, t.before, t.after);
}

// Directions are advised when 95 % sure; most deviations are far beyond that, so that far fewer
// than 1 in 20 may be wrong.
TEST(RandomPianos, AdvisedDirectionsAreRight) {
  const Tally t = over_pianos(200, {});
  report("200 pianos", t);
  ASSERT_GT(t.count.moves, 5000);
  EXPECT_LT(t.count.wrong, 0.01 * t.count.moves);
  EXPECT_LT(t.count.wrong_beyond, 0.0005 * t.count.moves);
  EXPECT_LT(t.after, 0.5 * t.before);
  EXPECT_LT(t.after, 0.25);
}

// Reported, not required to be good: strings the model does not assume.
TEST(RandomPianos, OnStringsTheModelDoesNotAssume) {
  workshop::WornPianoLaw law;
  law.strings.scatter = 0.15 * millimetre;
  const Tally t = over_pianos(60, law);
  report("60 pianos, 0.15 mm scatter from string to string", t);
  EXPECT_LT(t.count.wrong, 0.02 * t.count.moves);
}

}  // namespace
}  // namespace batten::line_test

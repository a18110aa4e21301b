// Both kinds of hidden truth behave as actions do, whatever their laws.
#include "core/regulation/catalogue/readings.hpp"
#include "workshop/mechanism_piano.hpp"
#include "workshop/table_piano.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <memory>
#include <string>

namespace batten::workshop {
namespace {

using enum Aim;
using enum Adjuster;

struct Kind {
  const char* name;
  std::function<std::unique_ptr<HiddenPiano>(std::uint64_t)> make;
};

class HiddenPianoTest : public testing::TestWithParam<Kind> {
 protected:
  std::unique_ptr<HiddenPiano> make(std::uint64_t seed) const { return GetParam().make(seed); }
  static NoteTruth at(HiddenPiano& piano, Key k) { return piano.truth(std::span(&k, 1))[0]; }
  // Change of every aim by a move.
  static std::array<double, aim_count> change(HiddenPiano& piano, Key k, Adjuster a, double by) {
    const NoteTruth before = at(piano, k);
    piano.turn(k, a, by);
    const NoteTruth after = at(piano, k);
    std::array<double, aim_count> out{};
    for (std::size_t i = 0; i < aim_count; ++i) out[i] = after.aim[i] - before.aim[i];
    return out;
  }
};

INSTANTIATE_TEST_SUITE_P(
    Both, HiddenPianoTest,
    testing::Values(Kind{"Mechanism", [](std::uint64_t s) { return make_mechanism_piano(s); }},
                    Kind{"Table", [](std::uint64_t s) { return make_table_piano(s); }}),
    [](const auto& one) { return std::string(one.param.name); });

// R1 (trade list archives 2002, 2004): (blow - let-off)/(dip - aftertouch) is the mean ratio. The
// mechanism integrates it on its way; 40 pianos departed by 2.4 % at most. Worked examples and the
// misfit there span 4.7 to 6.8.
TEST_P(HiddenPianoTest, KeepsTheIdentity) {
  const auto piano = make(11);
  for (const NoteTruth& t : piano->truth()) {
    EXPECT_NEAR((t[blow] - t[let_off]) / (t[dip] - t[aftertouch]) / t.ratio, 1, 0.05);
    EXPECT_GT(t.ratio, 4);
    EXPECT_LT(t.ratio, 7);
  }
}

// R2: aftertouch changes by dip one for one, by -1/R of blow and 1/R of let-off. The tables' ratio
// changes with the blow, which adds 2 % of 46 mm x 0.4 %/mm: a sixth.
TEST_P(HiddenPianoTest, KeepsTheSensitivities) {
  const auto piano = make(12);
  for (const int number : {8, 30, 49, 51, 80}) {
    const Key k{number};
    const double ratio = at(*piano, k).ratio;
    auto c = change(*piano, k, capstan, 0.05);
    EXPECT_NEAR(c[index_of(aftertouch)] / (-c[index_of(blow)] / ratio), 1, 0.25) << number;
    c = change(*piano, k, front_punchings, -0.3);
    EXPECT_NEAR(c[index_of(aftertouch)] / c[index_of(dip)], 1, 0.03) << number;
    c = change(*piano, k, let_off_button, 0.1);
    EXPECT_NEAR(c[index_of(aftertouch)] / (c[index_of(let_off)] / ratio), 1, 0.25) << number;
  }
}

// What + does, as the catalogue words it (trade texts agree); R5: a raised capstan leaves let-off
// and check where they are, an earlier let-off takes from the drop.
TEST_P(HiddenPianoTest, TurnsTheWayTheCatalogueSays) {
  const auto piano = make(13);
  for (const int number : {20, 40, 58}) {
    const Key k{number};
    auto c = change(*piano, k, capstan, 0.05);
    EXPECT_LT(c[index_of(blow)], -0.2) << number;
    EXPECT_NEAR(c[index_of(let_off)], 0, 0.05) << number;
    EXPECT_NEAR(c[index_of(check_distance)], 0, 0.05) << number;
    EXPECT_GT(change(*piano, k, balance_punchings, 0.1)[index_of(key_height)], 0.05) << number;
    c = change(*piano, k, front_punchings, -0.2);
    EXPECT_GT(c[index_of(dip)], 0.1) << number;
    EXPECT_LT(c[index_of(check_distance)], -0.3) << number;
    EXPECT_GT(change(*piano, k, jack_button, 0.1)[index_of(jack_position)], 0.02) << number;
    EXPECT_GT(change(*piano, k, repetition_spring, 1)[index_of(spring_rise)], 0) << number;
    EXPECT_GT(change(*piano, k, lever_height_button, 0.1)[index_of(jack_clearance)], 0.02)
        << number;
    EXPECT_GT(change(*piano, k, drop_screw, 0.1)[index_of(drop)], 0.2) << number;
    c = change(*piano, k, let_off_button, 0.05);
    EXPECT_GT(c[index_of(let_off)], 0.1) << number;
    EXPECT_LT(c[index_of(drop)], -0.01) << number;
    EXPECT_LT(change(*piano, k, back_check, 0.2)[index_of(check_distance)], -0.5) << number;
    EXPECT_GT(change(*piano, k, damper_wire, 0.4)[index_of(damper_start)], 0.01) << number;
  }
}

// A screw works at its own note; only a sharp is read over the naturals beside it.
TEST_P(HiddenPianoTest, MovesOneNoteAtATime) {
  const auto piano = make(14);
  const auto before = piano->truth();
  const Key natural{40};  // C4, the sharp beside it 41
  piano->turn(natural, capstan, 0.1);
  piano->turn(natural, balance_punchings, 0.2);
  const auto after = piano->truth();
  const double risen = after[39][key_height] - before[39][key_height];
  EXPECT_GT(risen, 0.1);
  for (std::size_t i = 0; i < after.size(); ++i) {
    if (i == 39) continue;
    for (const Aim a : {blow, dip, let_off, drop, aftertouch, check_distance})
      EXPECT_EQ(after[i][a], before[i][a]) << i;
    EXPECT_NEAR(after[i][key_height] - before[i][key_height], i == 40 ? -risen / 2 : 0, 1e-12) << i;
  }
}

// Years later, still an action: everything can be read (the catalogue's possible spans), nothing is
// stuck, hammers have sunk as old felt does (half a millimetre to one, job of the workshop).
TEST_P(HiddenPianoTest, IsFoundWornAndNotBroken) {
  double sunk = 0;
  const auto piano = make(20);
  const auto truth = piano->truth();
  for (std::size_t i = 0; i < truth.size(); ++i) {
    const Key k = piano->compass().at(static_cast<int>(i));
    EXPECT_FALSE(truth[i].harmful()) << i;
    for (const Aim a : all_aims) {
      if (a == damper_start && !piano->has(k, damper_wire)) {
        EXPECT_TRUE(std::isnan(truth[i][a]));
        continue;
      }
      const ReadingKind& kind = kind_of(reading_of(a, k));
      EXPECT_GE(truth[i][a], kind.possible_low) << kind.code << i;
      EXPECT_LE(truth[i][a], kind.possible_high) << kind.code << i;
    }
    sunk += (truth[i][blow] - (46 - static_cast<double>(i) / 87)) / 88;
  }
  EXPECT_GT(sunk, 0.1);
  EXPECT_LT(sunk, 2);
}

TEST_P(HiddenPianoTest, IsCopiedWithAllItHides) {
  const auto piano = make(15);
  const double found = at(*piano, Key{31})[blow];
  const auto other = piano->copy();
  piano->turn(Key{30}, capstan, 0.2);
  EXPECT_NE(at(*piano, Key{30})[blow], at(*other, Key{30})[blow]);
  other->turn(Key{30}, capstan, 0.2);
  EXPECT_EQ(at(*piano, Key{30})[blow], at(*other, Key{30})[blow]);
  piano->next_day();
  other->next_day();
  EXPECT_EQ(at(*piano, Key{30})[drop], at(*other, Key{30})[drop]);
  const auto again = make(15), another = make(16);
  EXPECT_EQ(at(*again, Key{31})[blow], found);
  EXPECT_NE(at(*another, Key{31})[blow], found);
}

// Friction has no part in where a hammer comes to rest in the end (but for one whose spring hardly
// carries it); it has in how far it drops.
TEST_P(HiddenPianoTest, RubsDifferentlyNextDay) {
  const auto piano = make(17);
  const auto before = piano->truth();
  piano->next_day();
  const auto after = piano->truth();
  double moved = 0;
  int elsewhere = 0;
  for (std::size_t i = 0; i < before.size(); ++i) {
    elsewhere += std::abs(after[i][blow] - before[i][blow]) > 0.02 ? 1 : 0;
    moved = std::max(moved, std::abs(after[i][drop] - before[i][drop]));
  }
  EXPECT_LE(elsewhere, 4);
  EXPECT_GT(moved, 0.002);
  EXPECT_LT(moved, 0.3);
}

// Standard deviation 0.12 mm before a tap, 0.03 after, as hidden_piano.cpp has it; of 88 values the
// sample's lies within 8 % (one standard error, chi-squared): four allowed.
TEST_P(HiddenPianoTest, SettlesWhenTapped) {
  const auto piano = make(18);
  const auto rms = [&] {
    double sum = 0;
    for (int i = 0; i < 88; ++i) sum += std::pow(piano->unsettled(piano->compass().at(i)), 2);
    return std::sqrt(sum / 88);
  };
  EXPECT_NEAR(rms(), 0.12, 0.04);
  for (int i = 0; i < 88; ++i) piano->tap(piano->compass().at(i));
  EXPECT_NEAR(rms(), 0.03, 0.01);
}

// Forth and back again: a mechanism is where it was, the tables' screws have lost motion.
TEST(TablePiano, HasBacklashWhereTheMechanismHasNone) {
  const auto table = make_table_piano(19);
  const auto mechanism = make_mechanism_piano(19);
  int lost = 0;
  for (int number = 1; number <= 88; ++number) {
    const Key k{number};
    for (HiddenPiano* piano :
         {static_cast<HiddenPiano*>(table.get()), static_cast<HiddenPiano*>(mechanism.get())}) {
      if (piano == mechanism.get() && number % 8 != 0) continue;
      const double before = piano->truth(std::span(&k, 1))[0][blow];
      piano->turn(k, capstan, 0.05);
      piano->turn(k, capstan, -0.05);
      const double off = std::abs(piano->truth(std::span(&k, 1))[0][blow] - before);
      if (piano == mechanism.get()) {
        EXPECT_LT(off, 1e-6) << number;
      } else {
        EXPECT_LT(off, 0.5) << number;
        lost += off > 0.01 ? 1 : 0;
      }
    }
  }
  EXPECT_GT(lost, 60);
}

// The same tenth of a turn does not do the same everywhere along a table.
TEST(TablePiano, HasBendsAndSteps) {
  const auto piano = make_table_piano(23);
  const Key k{40};
  double least = 1e9, most = 0;
  piano->turn(k, capstan, -0.6);
  for (int i = 0; i < 12; ++i) {
    const double before = piano->truth(std::span(&k, 1))[0][blow];
    piano->turn(k, capstan, 0.1);
    const double way = before - piano->truth(std::span(&k, 1))[0][blow];
    if (i == 0) continue;  // the backlash
    least = std::min(least, way);
    most = std::max(most, way);
  }
  EXPECT_GT(least, 0.3);
  EXPECT_GT(most / least, 1.1);
}

// Uniform ±15 % a piano, 2 % a screw: no screw farther than 15 % and five standard deviations, and
// screws of one piano alike.
TEST(MechanismPiano, DrawsItsPitchesAsItsLawSays) {
  const auto piano = make_mechanism_piano(24);
  for (const Adjuster a : {capstan, let_off_button, drop_screw}) {
    double sum = 0, squares = 0;
    for (int number = 1; number <= 88; ++number) {
      const double p = piano->pitch(Key{number}, a) / nominal_pitch[index_of(a)];
      EXPECT_NEAR(p, 1, 0.15 + 0.12);
      sum += p;
      squares += p * p;
    }
    const double mean = sum / 88, sd = std::sqrt(squares / 88 - mean * mean);
    EXPECT_NEAR(sd / mean, 0.02, 0.006);  // four standard errors of 7.5 %
  }
}

}  // namespace
}  // namespace batten::workshop

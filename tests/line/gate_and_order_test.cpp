// The gate, the working order, cautions and the measures of evenness.
#include "core/keyboard/samples.hpp"
#include "tests/line/journal_page.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <gmock/gmock.h>
#include <iterator>

namespace batten {
namespace {

using namespace line_test;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::Not;

Page page_with_work() {
  Page page = ready_page();
  for (const char* n : {"A0", "C1", "E1", "C4", "D4", "C8"}) page.blow(n, 47);
  return page;
}

TEST(Gate, OpensOnlyWithEveryItemOnRecord) {
  EXPECT_TRUE(page_with_work().line().gate.open);
  EXPECT_EQ(page_with_work().line().order.size(), 6U);
  for (const PreparationKind& missing : preparation_kinds()) {
    Page page;
    page.set("sections", "").blow("C4", 47);
    for (const PreparationKind& k : preparation_kinds())
      if (k.id != missing.id) page.prepare(k.id, PreparationState::done);
    const Line line = page.line();
    EXPECT_FALSE(line.gate.open) << missing.code;
    EXPECT_TRUE(line.order.empty());
    const auto& item = line.gate.items[static_cast<std::size_t>(missing.id)];
    EXPECT_EQ(item.item, missing.id);
    EXPECT_FALSE(item.passed);
    EXPECT_FALSE(item.record);
  }
}

TEST(Gate, AnItemFoundWantingShutsIt) {
  for (const PreparationKind& k : preparation_kinds()) {
    Page page = page_with_work();
    page.prepare(k.id, PreparationState::wanting);
    EXPECT_FALSE(page.line().gate.open) << k.code;
    EXPECT_TRUE(page.line().order.empty());
    page.prepare(k.id, PreparationState::waived, "", "agreed with the owner");
    EXPECT_TRUE(page.line().gate.open) << k.code;
  }
}

TEST(Gate, AnItemWantingAtOneNoteShutsItAndNamesTheNote) {
  Page page = page_with_work();
  page.prepare(PreparationItem::centres_free_and_firm, PreparationState::wanting, "F#3");
  const Line line = page.line();
  EXPECT_FALSE(line.gate.open);
  const auto at = static_cast<std::size_t>(PreparationItem::centres_free_and_firm);
  EXPECT_THAT(line.gate.items[at].wanting_notes, ElementsAre(key("F#3")));
  page.prepare(PreparationItem::centres_free_and_firm, PreparationState::done, "F#3");
  EXPECT_TRUE(page.line().gate.open);
}

// Common practice: samples first, then the middle of each gap, so that the eye never walks down a
// slope.
TEST(Order, SamplesFirstThenByHalves) {
  Page page = ready_page();
  for (int k = 1; k <= 88; ++k) page.blow(note_name(Key{k}), 47);
  const Line line = page.line();
  EXPECT_EQ(line.order, working_order(line.settings.sections, line.settings.samples));
  const auto samples = static_cast<std::ptrdiff_t>(line.settings.samples.size());
  EXPECT_TRUE(std::equal(line.order.begin(), line.order.begin() + samples,
                         line.settings.samples.begin(), line.settings.samples.end()));
  // The first filled in lie in the first gap, A0 to B0: its middle; then in B0 to E1: C#1.
  EXPECT_EQ(line.order[static_cast<std::size_t>(samples)], key("A#0"));
  EXPECT_EQ(line.order[static_cast<std::size_t>(samples) + 1], key("C#1"));
}

TEST(Order, HoldsExactlyTheMoves) {
  Page page = page_with_work();
  page.blow("G4", 46.01).blow("A4", 46.5, 1);  // too fine; not sure
  const Line line = page.line();
  EXPECT_THAT(line.order,
              ElementsAre(key("A0"), key("E1"), key("C8"), key("C1"), key("C4"), key("D4")));
}

TEST(Cautions, ApplyToTheWorkAtHand) {
  EXPECT_THAT(Page().set("sections", "").line().cautions,
              ElementsAre(Caution::makers_instructions));

  const Line raising = page_with_work().line();
  EXPECT_THAT(raising.cautions, Contains(Caution::blocked_hammer));
  EXPECT_THAT(raising.cautions, Contains(Caution::sliding_the_action));
  EXPECT_THAT(raising.cautions, Not(Contains(Caution::lost_escapement)));
  EXPECT_THAT(raising.cautions, Not(Contains(Caution::strained_hands)));

  EXPECT_THAT(page_with_work().blow("G4", 45).line().cautions, Contains(Caution::lost_escapement));
  EXPECT_THAT(page_with_work().blow("G4", 42).line().cautions,  // held, and told why
              Contains(Caution::lost_escapement));
  EXPECT_THAT(page_with_work().read(Reading::unison_level, "G4", 0.3, 0.05).line().cautions,
              Contains(Caution::string_tension));

  Page many = ready_page();
  for (int k = 1; k <= 20; ++k) many.blow(note_name(Key{k}), 47);
  EXPECT_THAT(many.line().cautions, Contains(Caution::strained_hands));
}

// Root mean square by hand: sqrt((0.3² + 0.4²) / 2).
TEST(Evenness, IsTheRootMeanSquare) {
  Page page = ready_page();
  page.blow("A0", 46.3).blow("C1", 45.6).blow("C8", 46.1);
  const Line line = page.line();
  EXPECT_NEAR(mm(*line.sections[0].evenness_to_target), std::sqrt((0.09 + 0.16) / 2), 1e-9);
  EXPECT_NEAR(mm(*line.sections[3].evenness_to_target), 0.1, 1e-9);
  EXPECT_FALSE(line.sections[1].evenness_to_target);
  EXPECT_NEAR(mm(*line.evenness_to_target), std::sqrt((0.09 + 0.16 + 0.01) / 3), 1e-9);
}

TEST(Evenness, LeavesOutWhatCannotBeRight) {
  Page page = ready_page();
  page.set("out-of-service", "C1").blow("A0", 46.3).blow("C1", 49).blow("D1", 55);
  EXPECT_NEAR(mm(*page.line().evenness_to_target), 0.3, 1e-9);
}

// What the eye sees: hammers on one straight line show nothing, one out of it shows itself.
TEST(Evenness, AgainstNeighboursOnlyTheOddOneShows) {
  Page page = level_page();
  for (int k = 21; k <= 50; ++k)
    page.hammer(note_name(Key{k}), 153 + 0.02 * (k - 21) + (k == 36 ? 0.8 : 0));
  const Line line = page.line();
  EXPECT_NEAR(mm(*line.at(Key{36}).to_neighbours), 0.8, 0.05);
  EXPECT_LT(std::abs(mm(*line.at(Key{30}).to_neighbours)), 0.05);
  EXPECT_LT(mm(*line.at(Key{30}).deviation), -0.7);
}

TEST(BlowTarget, TapersStraightWithinTheSection) {
  Page page = level_page();
  page.set("blow-target", "46 to 45 mm");
  const Line line = page.line();
  for (const NoteLine& n : line.notes) {
    EXPECT_NEAR(mm(n.blow_target), 46 - (n.key.number - 1) / 87.0, 1e-9);
    EXPECT_NEAR(mm(n.target), mm(n.string_fair) - mm(n.blow_target), 1e-9);
    EXPECT_EQ(n.target_sd, n.string_sd);
  }
}

}  // namespace
}  // namespace batten

// Nothing on the plan's sheet covers, leaves or outgrows anything, for every pass and unit. Limits
// on print are the project's own (11 pt where it is read at the piano, 8.5 pt at least anywhere, 5
// mm boxes); common practice, no source.
#include "core/quantities/text.hpp"
#include "reports/flow.hpp"
#include "reports/plan_pages.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <memory>
#include <string>
#include <vector>

namespace batten::paper {
namespace {

struct Case {
  std::string name;
  int moves = 88, readings = 88;  // each pass
  SheetOptions sheet;
  double size = 1;  // of the moves
};

Instruction invented(Adjuster adjuster, Key key, bool turn, double size) {
  Instruction i;
  i.kind = turn ? Instruction::Kind::turn : Instruction::Kind::read;
  i.key = key;
  i.adjuster = adjuster;
  i.reading = reading_of(aim_for(adjuster), key);
  const double sign = key.number % 2 == 0 ? 1 : -1;
  const bool papers =
      adjuster == Adjuster::front_punchings || adjuster == Adjuster::balance_punchings;
  i.amount = sign * size * (kind_of(adjuster).unit == MoveUnit::turns ? 7.0 / 64 : 1);
  if (papers) i.papers = {0.5, 0.25, 0.08};
  i.read_after = key.number % 3 == 0;
  i.before = 46.4;
  i.after = i.at_the_end = 45.6;
  i.target = 45.5;
  i.tolerance = 0.25;
  i.minutes = 0.4;
  return i;
}

Plan invented_plan(const Case& c) {
  Plan plan;
  plan.situation.notes.resize(88);
  plan.gate.open = true;
  UndoneTable undone{};
  undone[index_of(Adjuster::capstan)][index_of(Adjuster::balance_punchings)] = 1.4;
  undone[index_of(Adjuster::front_punchings)][index_of(Adjuster::capstan)] = 0.7;
  plan.order = derive_order(undone);
  for (const Adjuster a : plan.order.derived) {
    Pass pass;
    pass.adjuster = a;
    for (int k = 1; k <= c.readings; ++k) pass.steps.push_back(invented(a, Key{k}, false, c.size));
    for (int k = 1; k <= c.moves; ++k) pass.steps.push_back(invented(a, Key{k}, true, c.size));
    pass.readings = c.readings;
    pass.moves = c.moves;
    pass.minutes = 61.5;
    pass.done = 12;
    if (!pass.steps.empty()) plan.passes.push_back(pass);
    plan.minutes += pass.minutes;
  }
  plan.situation.questions = {
      {Question::Kind::wrong_way, Key{40}, Adjuster::capstan, Reading::blow, -0.8, 0.1, 0.7},
      {Question::Kind::odd_reading, Key{44}, Adjuster::capstan, Reading::let_off, 1.6, 0.1, 3.9}};
  for (int k = 1; k <= 88; k += 2)
    plan.holds.push_back({Hold::Reason::could_not_let_go, Key{k}, Adjuster::capstan, Reading::blow,
                          Reading::aftertouch});
  plan.cautions = {Caution::blocked_hammer, Caution::lost_escapement, Caution::strained_hands,
                   Caution::makers_instructions};
  return plan;
}

std::vector<Case> cases() {
  const SheetOptions letter{.paper = Paper::letter, .inches = true};
  return {{"all", 88, 88, {}, 1},
          {"all_letter_inches", 88, 88, letter, 1},
          {"large_moves_comma", 88, 0, {.decimal_comma = true}, 17},
          {"one_of_each", 1, 1, {}, 1},
          {"readings_only", 0, 88, {}, 1},
          {"nothing", 0, 0, letter, 1}};
}

class PlanLayout : public testing::TestWithParam<Case> {
 protected:
  std::vector<std::unique_ptr<Page>> pages = compose_plan_sheet(
      invented_plan(GetParam()),
      {"The last entry was made 5 hours ago. Next comes the blow: 56 moves, about 45 min.",
       "What moves what is computed with the action profile \"medium\".",
       "Planning aid, no medical advice.",
       {},
       {}},
      {"The big grand", "Hall", "before the recital", "25 November 2026", "A. Technician"},
      GetParam().sheet);
};

INSTANTIATE_TEST_SUITE_P(Every, PlanLayout, testing::ValuesIn(cases()),
                         [](const auto& each) { return each.param.name; });

TEST_P(PlanLayout, NoTwoWordsMeet) {
  for (const auto& page : pages) {
    const auto& texts = page->texts();
    for (std::size_t i = 0; i < texts.size(); ++i)
      for (std::size_t j = i + 1; j < texts.size(); ++j)
        EXPECT_FALSE(texts[i].ink.meets(texts[j].ink))
            << '"' << texts[i].text << "\" over \"" << texts[j].text << '"';
  }
}

TEST_P(PlanLayout, EveryWordStaysInItsCellUncut) {
  for (const auto& page : pages)
    for (const TextMark& mark : page->texts()) {
      EXPECT_TRUE(mark.cell.holds(mark.ink, 1.0)) << mark.text;
      // Of single lines: a text wider than its cell was cut.
      if (mark.cell.height < 24) {
        EXPECT_LE(page->text_width(mark.text, {.size = mark.size}), mark.cell.width + 0.5)
            << mark.text;
      }
    }
}

TEST_P(PlanLayout, NothingReachesIntoTheMargin) {
  for (const auto& page : pages) {
    const Box printable{Flow::margin, Flow::margin, page->width() - 2 * Flow::margin,
                        page->height() - 2 * Flow::margin};
    EXPECT_TRUE(printable.holds(page->ink(), 2.0))
        << page->ink().right() << ' ' << page->ink().bottom();
  }
}

TEST_P(PlanLayout, EveryStepAndQuestionHasItsBox) {
  std::size_t boxes = 0;
  for (const auto& page : pages) {
    boxes += page->tick_boxes().size();
    for (const Box& box : page->tick_boxes()) {
      EXPECT_NEAR(box.width / mm, 5, 1e-9);
      for (const TextMark& mark : page->texts()) EXPECT_FALSE(box.meets(mark.ink)) << mark.text;
    }
  }
  const auto steps = static_cast<std::size_t>(GetParam().moves + GetParam().readings);
  EXPECT_EQ(boxes, 2 + note_adjuster_count * steps);
}

TEST_P(PlanLayout, AmountsAreLargeAndNothingIsSmall) {
  for (const auto& page : pages)
    for (const TextMark& mark : page->texts()) {
      EXPECT_GE(mark.size, 8.5) << mark.text;
      if (mark.text == "7/64") {
        EXPECT_GE(mark.size, 14);
      }
    }
}

TEST(PlanSheet, AmountsAreWrittenAsTheyAreTaken) {
  const Units mm_units{}, inches{.inches = true};
  Instruction i = invented(Adjuster::front_punchings, Key{40}, true, 1);
  EXPECT_EQ(short_amount(i, mm_units), "0.50 + 0.25 + 0.08");
  EXPECT_EQ(short_amount(i, inches), "0.50 + 0.25 + 0.08");  // what is written on the papers
  EXPECT_EQ(amount_unit(Adjuster::front_punchings, inches), "papers, mm");
  i = invented(Adjuster::capstan, Key{41}, true, 1);
  EXPECT_EQ(short_amount(i, mm_units), "7/64");
  EXPECT_EQ(short_direction(i.adjuster, i.amount), "lower");
  i = invented(Adjuster::back_check, Key{40}, true, 0.5);
  EXPECT_EQ(short_amount(i, mm_units), "0.50");
  EXPECT_EQ(short_amount(i, inches), "0.020");  // 0.5 mm over 25.4 (exact)
}

}  // namespace
}  // namespace batten::paper

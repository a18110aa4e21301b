// The whole plan of a piano from its journal, and what the hand's answer writes down.
#include "app/plan_job.hpp"

#include "app/entries.hpp"
#include "app/readings.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "tests/app/desk_fixture.hpp"
#include "workshop/demo.hpp"

#include <cmath>
#include <gmock/gmock.h>

namespace batten {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;
using ::testing::StartsWith;

// One note in service, in order but for its blow: the next instruction is a turn of its capstan.
class AnswerToPlan : public DeskTest {
 protected:
  AnswerToPlan() {
    std::vector<EntryContent> contents;
    for (const PreparationKind& k : preparation_kinds())
      contents.emplace_back(PreparationNoted{k.id, std::nullopt, PreparationState::found, ""});
    std::string others;
    for (int k = 1; k <= 88; ++k)
      if (k != 40) others += note_name(Key{k}) + " ";
    contents.emplace_back(SettingChosen{"out-of-service", others});
    contents.emplace_back(SettingChosen{"action-profile", "medium"});
    const auto read = [&](Reading r, double value, double sd) {
      contents.emplace_back(ReadingTaken{r, Key{40}, value, sd, "", ""});
    };
    read(Reading::jack_position, 0, 0.02);
    read(Reading::jack_clearance, 0.15, 0.01);
    read(Reading::spring_rise, 2, 0.1);
    read(Reading::blow, 47, 0.05);
    read(Reading::dip, 10, 0.02);
    read(Reading::let_off, 1.7, 0.02);
    read(Reading::drop, 1.5, 0.03);
    read(Reading::check_distance, 14, 0.1);
    read(Reading::aftertouch, 0.95, 0.02);
    read(Reading::damper_start, 0.5, 0.005);
    kept_ = keep(desk_, piano_, std::move(contents)).has_value();
  }

  Instruction asked() {
    EXPECT_TRUE(kept_);
    const auto plan = plan_work(desk_, piano_);
    EXPECT_TRUE(plan && plan->plan.next() != nullptr);
    return plan && plan->plan.next() != nullptr ? *plan->plan.next() : Instruction{};
  }
  // Refused, and nothing written.
  void refused(const Answer& answer, const std::string& saying) {
    const std::size_t before = entries_kept();
    const auto done = answer_next(desk_, piano_, answer);
    ASSERT_FALSE(done) << saying;
    EXPECT_THAT(done.error().sentence(), HasSubstr(saying));
    EXPECT_FALSE(done.error().todo.empty()) << done.error().sentence();
    EXPECT_EQ(entries_kept(), before);
  }

 private:
  bool kept_ = false;
};

// 2026-11-26: 64.5 mm read was believed as 62.0 mm, because the model's own key height (0, over its
// design) stood in for the one over the key bed.
TEST_F(DeskTest, BelievesAKeyHeightThatHasNoTarget) {
  ASSERT_TRUE(choose_setting(desk_, piano_, "sections", "E2 bridge, A#4 strut, D6 strut"));
  ASSERT_TRUE(take_reading(desk_, piano_, {"key-height", "C4", "64.5", "", ""}));
  ASSERT_TRUE(take_reading(desk_, piano_, {"sharps-height", "C#4", "12.4", "", ""}));
  const auto plan = plan_work(desk_, piano_);
  ASSERT_TRUE(plan);
  const auto& notes = plan->plan.situation.notes;
  EXPECT_NEAR(notes.at(39).at(Aim::key_height), 64.5, 0.1);
  EXPECT_NEAR(notes.at(40).at(Aim::key_height), 12.4, 0.1);
  EXPECT_TRUE(plan->plan.situation.questions.empty());
}

TEST_F(AnswerToPlan, IsWrittenDownForTheInstructionItAnswers) {
  const Instruction step = asked();
  ASSERT_EQ(step.kind, Instruction::Kind::turn);
  ASSERT_EQ(step.adjuster, Adjuster::capstan);
  EXPECT_GT(step.amount, 0);  // the blow is too long: raise
  const auto done = answer_next(desk_, piano_, {});
  ASSERT_TRUE(done) << done.error().sentence();
  EXPECT_TRUE(done->as_asked);
  ASSERT_EQ(done->kept.size(), 1U);
  EXPECT_EQ(done->kept.front().content,
            EntryContent(MoveMade{Adjuster::capstan, Key{40}, step.amount, ""}));
  // The first moves of an adjuster are read again, and a reading needs its value.
  const Instruction* next = done->now.plan.next();
  ASSERT_NE(next, nullptr);
  EXPECT_EQ(next->kind, Instruction::Kind::read);
  EXPECT_EQ(next->reading, Reading::blow);
  refused({}, "A reading is done when it has a value");
  refused({{"raise 1/32"}}, "batten turned C4");
  const auto read = answer_next(desk_, piano_, {{"45.6"}});
  ASSERT_TRUE(read) << read.error().sentence();
  EXPECT_EQ(std::get<ReadingTaken>(read->kept.front().content).value, 45.6);
}

TEST_F(AnswerToPlan, AnotherAmountAndAReadingAreTakenAsTheyWere) {
  const auto done = answer_next(desk_, piano_, {{"lower 1/32", "47.2"}});
  ASSERT_TRUE(done) << done.error().sentence();
  EXPECT_FALSE(done->as_asked);
  ASSERT_EQ(done->kept.size(), 2U);
  EXPECT_EQ(done->kept[0].content,
            EntryContent(MoveMade{Adjuster::capstan, Key{40}, -1.0 / 32, ""}));
  const auto& read = std::get<ReadingTaken>(done->kept[1].content);
  EXPECT_EQ(read.reading, Reading::blow);
  EXPECT_EQ(read.note, Key{40});
  EXPECT_EQ(read.value, 47.2);
  EXPECT_EQ(done->kept[0].at_ms, done->kept[1].at_ms);  // one step: one undo takes it back
}

TEST_F(AnswerToPlan, WhatCannotBeKeepsNothing) {
  refused({{"1/32"}}, "has no direction");
  refused({{"raise 1/32 mm"}}, "turn");
  refused({{"raise 3"}}, "slip");
  refused({{"banana"}}, "Next is");
  refused({{"1950"}}, "slip");  // beyond any blow
  refused({{"raise 1/32", "45.2", "46"}}, "one word too many");
  refused({{}, "D4"}, "That is not at D4");
  refused({{}, "H4"}, "H4");
  refused({{}, "", true, ""}, "reason");
  refused({{"raise 1/32"}, "", true, "stripped"}, "both done and left");
}

TEST_F(AnswerToPlan, WhatIsLeftIsNotAskedAgain) {
  const auto left = answer_next(desk_, piano_, {{}, "C4", true, "screw stripped"});
  ASSERT_TRUE(left) << left.error().sentence();
  EXPECT_EQ(left->kept.front().content,
            EntryContent(MoveSkipped{Adjuster::capstan, Key{40}, "screw stripped"}));
  EXPECT_EQ(find_instruction(left->now.plan, Key{40}, Adjuster::capstan), nullptr);
}

// The demo piano, mid-job.
class PlanJob : public DeskTest {
 protected:
  PlanJob() : demo_(*workshop::build_demo(desk_)) {}
  PianoPlan plan() { return *plan_work(desk_, demo_); }
  Piano demo_;
};

TEST_F(PlanJob, MinutesLeaveOutWhatBuysLeast) {
  const auto all = plan_work(desk_, demo_);
  const auto some = plan_work(desk_, demo_, {60.0});
  ASSERT_TRUE(some);
  EXPECT_EQ(some->minutes_of_all, all->plan.minutes);
  EXPECT_LE(some->plan.minutes, 60 + 1e-6);
  EXPECT_GT(some->plan.minutes, 30);
  EXPECT_FALSE(some->plan.left_for_time.empty());
  EXPECT_LT(some->plan.unevenness_after, some->plan.unevenness);
  EXPECT_GE(some->plan.unevenness_after, some->unevenness_of_all);
}

TEST_F(PlanJob, SaysWhoseFiguresItUses) {
  EXPECT_TRUE(plan().profile_chosen);
  EXPECT_THAT(rests_on(plan()), Not(HasSubstr("stands in")));
  const auto bare = plan_work(desk_, piano_);
  ASSERT_TRUE(bare) << bare.error().sentence();
  EXPECT_EQ(bare->profile, "medium");
  EXPECT_FALSE(bare->profile_chosen);
  EXPECT_THAT(rests_on(*bare), HasSubstr("a first guess"));
  // Nothing is turned before the preparation is passed.
  EXPECT_FALSE(bare->plan.gate.open);
  for (const Pass& pass : bare->plan.passes) EXPECT_EQ(pass.moves, 0);
}

TEST_F(PlanJob, TheSheetHasEveryPass) {
  const auto pages = write_plan_sheet(desk_, demo_, folder_ / "plan.pdf", {});
  ASSERT_TRUE(pages) << pages.error().sentence();
  EXPECT_GE(*pages, 2);
  EXPECT_THAT(samples::bytes_of(folder_ / "plan.pdf"), StartsWith("%PDF-"));  // ISO 32000-1, 7.5.2
  const auto one = write_plan_sheet(desk_, demo_, folder_ / "blow.pdf", {}, Adjuster::capstan);
  ASSERT_TRUE(one);
  EXPECT_LT(*one, *pages);
  EXPECT_FALSE(write_plan_sheet(desk_, demo_, folder_.path() / "none" / "plan.pdf", {}));
}

TEST(Minutes, AreReadAsPeopleWriteThem) {
  EXPECT_DOUBLE_EQ(*parse_minutes("150"), 150);
  EXPECT_DOUBLE_EQ(*parse_minutes("150 min"), 150);
  EXPECT_DOUBLE_EQ(*parse_minutes("2 h 30"), 150);
  EXPECT_DOUBLE_EQ(*parse_minutes("2h30"), 150);
  EXPECT_DOUBLE_EQ(*parse_minutes("2,5 h"), 150);
  for (const char* text : {"", "soon", "0", "-5", "25 h", "150 mm", "2 h soon"})
    EXPECT_FALSE(parse_minutes(text)) << text;
}

class PlanSettings : public DeskTest {};

// A thread is what the hand saw: the words of the adjuster, the way it turned.
TEST_F(PlanSettings, TellWhichWayAScrewTurns) {
  ASSERT_TRUE(choose_setting(desk_, piano_, "capstan-thread", "raise counter-clockwise"));
  ASSERT_TRUE(choose_setting(desk_, piano_, "drop-screw-thread", "less drop clockwise"));
  const auto threads = threads_on_record(standing(desk_, piano_)->settings);
  ASSERT_TRUE(threads);
  EXPECT_EQ(threads->of(Adjuster::capstan, 1), Rotation::counter_clockwise);
  EXPECT_EQ(threads->of(Adjuster::capstan, -1), Rotation::clockwise);
  EXPECT_EQ(threads->of(Adjuster::drop_screw, 1), Rotation::counter_clockwise);
  EXPECT_EQ(threads->of(Adjuster::let_off_button, 1), std::nullopt);
  for (const auto& [name, value] :
       {std::pair{"capstan-thread", "clockwise"}, std::pair{"capstan-thread", "raise"},
        std::pair{"capstan-thread", "more drop clockwise"},
        std::pair{"front-punchings-thread", "add clockwise"},
        std::pair{"back-check-thread", "raise clockwise"}})
    EXPECT_FALSE(choose_setting(desk_, piano_, name, value)) << name << " " << value;
}

TEST_F(PlanSettings, OfTheWholePlanAreKeptOrRefused) {
  for (const auto& [name, value] :
       {std::pair{"dip-target", "10.2"}, std::pair{"let-off-target", "2 to 1.5"},
        std::pair{"grade", "stage"}, std::pair{"blow-tolerance", "0.4, 0.2"},
        std::pair{"need-aftertouch", "0.8 to 1.5"}, std::pair{"want-power", "2"},
        std::pair{"play-weight", "0.5; 1; 1; 0.4"}})
    EXPECT_TRUE(choose_setting(desk_, piano_, name, value)) << name;
  for (const auto& [name, value] :
       {std::pair{"dip-target", "102"}, std::pair{"grade", "perfect"},
        std::pair{"play-weight", "1; 1"}, std::pair{"need-aftertouch", "much"},
        std::pair{"want-power", "-1"}})
    EXPECT_FALSE(choose_setting(desk_, piano_, name, value)) << name;
  // Fewer sections than there are weights: the settings could not be read together any more.
  const auto fewer = choose_setting(desk_, piano_, "sections", "E2 bridge");
  ASSERT_FALSE(fewer);
  EXPECT_THAT(fewer.error().kept, HasSubstr("not changed"));
}

}  // namespace
}  // namespace batten

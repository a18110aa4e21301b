// What is said of an instruction, a question, a pause: against sentences written beforehand.
#include "core/quantities/quantity.hpp"
#include "core/regulation/planning/progress.hpp"
#include "core/regulation/planning/words.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <string>

namespace batten {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

constexpr const char* thin =
    "\u202f";  // between a number and its unit (ISO 80000-1, 7.1.3: a space)

std::string spaced(std::string text) {
  for (auto at = text.find(thin); at != std::string::npos; at = text.find(thin))
    text.replace(at, 3, " ");
  return text;
}

// 88 notes, everything read, the order of common practice.
Plan plan_of_notes() {
  Plan plan;
  plan.gate.open = true;
  plan.order = derive_order({});
  for (int k = 1; k <= 88; ++k) {
    NoteState note;
    note.key = Key{k};
    note.read.fill(true);
    plan.situation.notes.push_back(note);
  }
  return plan;
}

Instruction turn_of(Adjuster adjuster, double amount, double before, double after, double target) {
  Instruction i;
  i.kind = Instruction::Kind::turn;
  i.key = Key{40};  // C4
  i.adjuster = adjuster;
  i.reading = reading_of(aim_for(adjuster), i.key);
  i.amount = amount;
  i.before = before;
  i.after = i.at_the_end = after;
  i.target = target;
  i.tolerance = 0.25;
  return i;
}

TEST(Words, AnInstructionIsASentenceAHandCanFollow) {
  const Plan plan = plan_of_notes();
  Instruction i = turn_of(Adjuster::capstan, 3.0 / 64, 46.4, 45.6, 45.5);
  i.read_after = true;
  EXPECT_EQ(spaced(instruction_words(plan, i, {})),
            "C4: raise the capstan 3⁄64 turn – blow 46.4 → 45.6 mm, wanted 45.5 mm; read it again");
  WordStyle style;
  style.threads.positive[index_of(Adjuster::capstan)] = Rotation::counter_clockwise;
  EXPECT_THAT(instruction_words(plan, i, style), HasSubstr("3⁄64 turn counter-clockwise"));
  i.amount = -i.amount;
  EXPECT_THAT(instruction_words(plan, i, style),
              HasSubstr("lower the capstan 3⁄64 turn clockwise"));
  // 46.4, 45.6 and 45.5 mm over 25.4 (exact).
  i.read_after = false;
  EXPECT_EQ(spaced(instruction_words(plan, i, {.inches = true})),
            "C4: lower the capstan 3⁄64 turn – blow 1.827 → 1.795 in, wanted 1.791 in");
}

TEST(Words, AReadingSaysWhatIsReckoned) {
  Plan plan = plan_of_notes();
  Instruction i = turn_of(Adjuster::capstan, 0, 46.4, 46.4, 45.5);
  i.kind = Instruction::Kind::read;
  i.before_sd = 0.16;
  EXPECT_EQ(spaced(instruction_words(plan, i, {})),
            "C4: read the blow – blow reckoned 46.4 ± 0.16 mm");
  // Strings at 192.9 over the key bed, which lies 63.4 under the bench: 192.9 − 63.4 − 46.4.
  i.reading = Reading::hammer_height;
  plan.situation.plane.height.assign(88, 192.9 * millimetre);
  plan.situation.plane.sd.assign(88, 0.1 * millimetre);
  plan.situation.plane.offset.assign(88, 63.4 * millimetre);
  EXPECT_EQ(spaced(instruction_words(plan, i, {})),
            "C4: tap the hammer and read its height – blow reckoned 46.4 ± 0.16 mm, crown about "
            "83.1 mm");
  plan.situation.notes[39].read.fill(false);
  EXPECT_THAT(instruction_words(plan, i, {}), HasSubstr("not read yet"));
}

TEST(Words, EveryAdjusterHasItsOwn) {
  const Plan plan = plan_of_notes();
  struct Row {
    Adjuster adjuster;
    double amount;
    const char* words;
  };
  for (const Row& row :
       {Row{Adjuster::balance_punchings, 0.1, "add 0.10 mm of paper at the balance rail"},
        Row{Adjuster::front_punchings, -0.1, "take out 0.10 mm of paper at the front rail"},
        Row{Adjuster::jack_button, 0.125,
            "turn the jack button ⅛ turn, to bring the jack toward the player"},
        Row{Adjuster::lever_height_button, -0.125,
            "turn the lever's height button ⅛ turn, to lower the lever"},
        Row{Adjuster::repetition_spring, 2, "strengthen the repetition spring by 2 steps"},
        Row{Adjuster::repetition_spring, -1, "weaken the repetition spring by 1 step"},
        Row{Adjuster::let_off_button, -0.0625,
            "turn the let-off button 1⁄16 turn, for later let-off"},
        Row{Adjuster::drop_screw, 0.0625, "turn the drop screw 1⁄16 turn, for more drop"},
        Row{Adjuster::back_check, -0.5, "bend away the back check, 0.50 mm at its pad"},
        Row{Adjuster::damper_wire, 0.5, "set the damper 0.50 mm, for later lift"}})
    EXPECT_EQ(spaced(act_words(turn_of(row.adjuster, row.amount, 1, 1, 1), {})), row.words);
  Instruction papers = turn_of(Adjuster::front_punchings, 0.33, 10.3, 9.97, 10);
  papers.papers = {0.25, 0.08};
  EXPECT_EQ(spaced(act_words(papers, {})), "add 0.25 + 0.08 mm of paper at the front rail");
}

// A move that stops short because later passes carry it on says where it will end.
TEST(Words, WhereLaterPassesCarryItOnIsSaid) {
  Instruction i = turn_of(Adjuster::capstan, 3.0 / 64, 46.4, 45.8, 45.5);
  i.at_the_end = 45.5;
  EXPECT_THAT(spaced(instruction_words(plan_of_notes(), i, {})),
              HasSubstr("45.8 mm, with the later passes 45.5 mm, wanted 45.5 mm"));
  i.at_the_end = 45.76;  // less than a quarter of the tolerance away
  EXPECT_THAT(instruction_words(plan_of_notes(), i, {}), Not(HasSubstr("later passes")));
}

TEST(Words, AQuestionSaysWhatWasExpectedWhatWasSeenAndWhatToDo) {
  const Question wrong{
      Question::Kind::wrong_way, Key{40}, Adjuster::capstan, Reading::blow, -0.8, 0.1, 0.7};
  const QuestionWords w = question_words(wrong, {});
  EXPECT_EQ(spaced(w.happened),
            "C4: after the capstan was moved its blow changed by 0.70 mm more; 0.80 mm less was "
            "expected.");
  EXPECT_THAT(w.maybe, HasSubstr("run the other way"));
  EXPECT_THAT(w.todo, HasSubstr("Read the blow of C4 once more"));
  const Question odd{
      Question::Kind::odd_reading, Key{40}, Adjuster::capstan, Reading::let_off, 1.6, 0.1, 3.9};
  EXPECT_EQ(spaced(question_words(odd, {}).happened),
            "C4: let-off was read as 3.90 mm; 1.60 ± 0.10 mm was expected.");
}

TEST(Words, AThreadIsAskedForUntilItIsOnRecord) {
  EXPECT_THAT(thread_question(Adjuster::capstan, {}),
              HasSubstr("batten set capstan-thread \"raise clockwise\""));
  Threads known;
  known.positive[index_of(Adjuster::capstan)] = Rotation::clockwise;
  EXPECT_EQ(thread_question(Adjuster::capstan, known), "");
  EXPECT_EQ(thread_question(Adjuster::front_punchings, {}), "");  // nothing is turned
}

TEST(Words, APassIsFoundByItsNames) {
  EXPECT_EQ(pass_by_name("blow"), Adjuster::capstan);
  EXPECT_EQ(pass_by_name("Let-Off"), Adjuster::let_off_button);
  EXPECT_EQ(pass_by_name("let off button"), Adjuster::let_off_button);
  EXPECT_EQ(pass_by_name("drop-screw"), Adjuster::drop_screw);
  EXPECT_EQ(pass_by_name("springs"), Adjuster::repetition_spring);
  EXPECT_EQ(pass_by_name("Lever height"), Adjuster::lever_height_button);
  EXPECT_EQ(pass_by_name("pedalling"), std::nullopt);
}

TEST(Progress, MinutesArePrintedAsPeopleSayThem) {
  EXPECT_EQ(print_minutes(3.2), "4 min");
  EXPECT_EQ(print_minutes(60), "1 h");
  EXPECT_EQ(print_minutes(64.5), "1 h 5 min");
  EXPECT_EQ(print_minutes(381), "6 h 20 min");  // beyond two hours to five minutes
}

constexpr std::int64_t hour = 3'600'000;

Standing standing_until(std::int64_t at_ms) {
  Standing s;
  Entry e;
  e.at_ms = at_ms;
  e.content = MoveMade{Adjuster::capstan, Key{40}, 3.0 / 64, ""};
  s.moves.push_back(e);
  s.move_places.push_back(0);
  return s;
}

Pass pass_of(Adjuster adjuster, int readings, int moves, double minutes) {
  Pass p;
  p.adjuster = adjuster;
  p.readings = readings;
  p.moves = moves;
  p.minutes = minutes;
  p.steps.resize(static_cast<std::size_t>(readings + moves));
  return p;
}

TEST(Progress, WhereWeWereIsTwoSentences) {
  Plan plan = plan_of_notes();
  for (int k = 1; k <= 14; ++k)
    plan.situation.notes[static_cast<std::size_t>(k)].moves[index_of(Adjuster::jack_button)] = 1;
  for (int k = 1; k <= 11; ++k)
    plan.situation.notes[static_cast<std::size_t>(k)].moves[index_of(Adjuster::capstan)] = 1;
  plan.passes = {pass_of(Adjuster::capstan, 0, 56, 45),
                 pass_of(Adjuster::let_off_button, 30, 8, 335)};
  const JobProgress p = calc_progress(plan, standing_until(1000 * hour), 1020 * hour);
  EXPECT_EQ(p.since_ms, 20 * hour);
  EXPECT_EQ(p.moves_left, 64);
  EXPECT_EQ(
      progress_words(plan, p),
      "The last entry, C4 capstan, was made 20 hours ago: jack position (14 notes) is done; "
      "blow (11 of 67 notes) is under way. Next comes the blow: 56 moves, about 45 min of the "
      "6 h 20 min that are left in all.");
}

TEST(Progress, NothingDoneNothingLeftAndAGateAreSaid) {
  Plan plan = plan_of_notes();
  const JobProgress done = calc_progress(plan, standing_until(0), -5);  // a clock that runs behind
  EXPECT_EQ(done.since_ms, 0);
  EXPECT_THAT(progress_words(plan, done), HasSubstr("Nothing is left to read or to turn"));
  plan.gate.open = false;
  plan.gate.items.resize(3);
  plan.gate.items[0].passed = true;
  const std::string gated = progress_words(plan, calc_progress(plan, {}, 0));
  EXPECT_THAT(gated, HasSubstr("Nothing has been read or turned yet."));
  EXPECT_THAT(gated, HasSubstr("First 2 items of the preparation have to be looked at"));
}

}  // namespace
}  // namespace batten

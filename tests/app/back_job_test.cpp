// A bench sheet typed back: all or none, each line once, against the plan as it was printed. What
// is expected of each line is worked by hand beside it.
#include "app/bench_job.hpp"
#include "app/entries.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "tests/app/desk_fixture.hpp"

#include <algorithm>
#include <gmock/gmock.h>

namespace batten {
namespace {

class Back : public DeskTest {
 protected:
  // Four notes in service, their blow read 2 mm too long: the plan has a pass of blow with moves.
  Back() {
    for (const PreparationKind& k : preparation_kinds())
      write(PreparationNoted{k.id, std::nullopt, PreparationState::found, ""});
    std::string others;
    for (int k = 1; k <= 88; ++k)
      if (k < 40 || k > 43) others += note_name(Key{k}) + " ";
    write(SettingChosen{"out-of-service", others});
    write(SettingChosen{"action-profile", "medium"});
    write(SettingChosen{"blow-target", "45 mm"});
    for (int k = 40; k <= 43; ++k) write(ReadingTaken{Reading::blow, Key{k}, 47, 0.05, "", ""});
  }
  void write(EntryContent content) {
    const auto kept = keep(desk_, piano_, {std::move(content)});
    ASSERT_TRUE(kept) << kept.error().sentence();
  }
  BenchPaper printed(Adjuster pass = Adjuster::capstan) {
    auto paper = bench_paper(desk_, piano_, {}, pass, true);
    EXPECT_TRUE(paper) << paper.error().sentence();
    return std::move(*paper);
  }
  std::int64_t entries() { return *desk_.store.revision(piano_.id); }
  // Number of the first line that turns something.
  static int first_move(const BenchPaper& p) {
    const auto& steps = p.passes[0].pass->steps;
    const auto move = std::ranges::find(steps, Instruction::Kind::turn, &Instruction::kind);
    return static_cast<int>(move - steps.begin()) + 1;
  }
};

TEST_F(Back, CodeIsReadBackAndASlipIsFound) {
  const std::string code = bench_code(piano_, Adjuster::let_off_button, 2758);
  EXPECT_TRUE(code.starts_with("LO-2758-"));
  const auto read = read_bench_code(piano_, " lo 2758 " + code.substr(8));
  ASSERT_TRUE(read);
  EXPECT_EQ(read->pass, Adjuster::let_off_button);
  EXPECT_EQ(read->revision, 2758);
  Piano other = piano_;
  other.id.bytes[3] ^= 0x55U;
  int accepted = 0;
  for (int figure = 0; figure < 10; ++figure)
    if (const std::string slip = "LO-27" + std::to_string(figure) + "8-" + code.substr(8);
        slip != code)
      accepted += read_bench_code(piano_, slip) ? 1 : 0;
  EXPECT_LE(accepted, 2);  // one in 23 by chance
  EXPECT_FALSE(read_bench_code(piano_, "XX-2758-A"));
  EXPECT_FALSE(read_bench_code(piano_, ""));
}

TEST_F(Back, EachKindOfLineWritesWhatItSays) {
  const BenchPaper paper = printed();
  const auto& steps = paper.passes[0].pass->steps;
  const int n = first_move(paper);
  ASSERT_GE(static_cast<int>(steps.size()), n + 3);
  const std::int64_t before = entries();
  const auto at = [&](int i) { return std::to_string(n + i); };
  const auto back = type_back(desk_, piano_, paper.passes[0].code,
                              {at(0) + " =", at(1) + " 45.2", "", at(2) + " lower 1/32 46.1",
                               at(3) + " - screw is stripped"});
  ASSERT_TRUE(back) << back.error().problem.sentence();
  // One move; a move and its reading; a move the other way and its reading; one left.
  EXPECT_EQ(back->written, 6U);
  EXPECT_EQ(entries(), before + 6);
  ASSERT_EQ(back->lines.size(), 4U);
  const auto& moved = std::get<MoveMade>(back->lines[0].entries[0].content);
  EXPECT_EQ(moved.amount, steps[static_cast<std::size_t>(n - 1)].amount);
  EXPECT_EQ(moved.note, steps[static_cast<std::size_t>(n - 1)].key);
  EXPECT_NEAR(std::get<ReadingTaken>(back->lines[1].entries[1].content).value, 45.2, 1e-9);
  EXPECT_NEAR(std::get<MoveMade>(back->lines[2].entries[0].content).amount, -1.0 / 32, 1e-12);
  EXPECT_EQ(std::get<MoveSkipped>(back->lines[3].entries[0].content).reason, "screw is stripped");
}

TEST_F(Back, GermanWordsAndCommaAreUnderstood) {
  const BenchPaper paper = printed();
  const std::string n = std::to_string(first_move(paper));
  const auto back = type_back(desk_, piano_, paper.passes[0].code, {n + " tiefer 1/16 45,3"});
  ASSERT_TRUE(back) << back.error().problem.sentence();
  EXPECT_NEAR(std::get<MoveMade>(back->lines[0].entries[0].content).amount, -1.0 / 16, 1e-12);
}

TEST_F(Back, AllOrNoneAndEveryBadLineIsTold) {
  const BenchPaper paper = printed();
  const int n = first_move(paper);
  const std::int64_t before = entries();
  const auto back = type_back(desk_, piano_, paper.passes[0].code,
                              {std::to_string(n) + " =", "x", "999 =", std::to_string(n + 1),
                               std::to_string(n + 2) + " 1/32", std::to_string(n) + " ="});
  ASSERT_FALSE(back);
  ASSERT_EQ(back.error().lines.size(), 5U);
  EXPECT_EQ(back.error().problem.happened, "5 lines could not be taken.");
  EXPECT_EQ(back.error().lines[0].line, 2);  // no number
  EXPECT_EQ(back.error().lines[1].line, 3);  // no such line
  EXPECT_EQ(back.error().lines[2].line, 4);  // no result
  EXPECT_EQ(back.error().lines[3].line, 5);  // no direction
  EXPECT_EQ(back.error().lines[4].line, 6);  // twice
  EXPECT_EQ(entries(), before);
  // A value no piano has is refused by the journal's own checks.
  EXPECT_FALSE(type_back(desk_, piano_, paper.passes[0].code, {std::to_string(n) + " 900"}));
  EXPECT_EQ(entries(), before);
}

TEST_F(Back, TypedTwiceIsWrittenOnceAndAfterAnUndoAgain) {
  const BenchPaper paper = printed();
  const std::vector<std::string> lines{std::to_string(first_move(paper)) + " ="};
  ASSERT_TRUE(type_back(desk_, piano_, paper.passes[0].code, lines));
  const std::int64_t after = entries();
  const auto again = type_back(desk_, piano_, paper.passes[0].code, lines);
  ASSERT_TRUE(again);
  EXPECT_EQ(again->written, 0U);
  EXPECT_EQ(again->already_there, 1U);
  EXPECT_EQ(entries(), after);
  ASSERT_TRUE(undo(desk_, piano_));
  const auto anew = type_back(desk_, piano_, paper.passes[0].code, lines);
  ASSERT_TRUE(anew);
  EXPECT_EQ(anew->written, 1U);
}

// The line's number keeps its meaning though the plan has changed since.
TEST_F(Back, IsAgainstThePlanAsItWasPrinted) {
  const BenchPaper paper = printed();
  const int n = first_move(paper);
  const Instruction asked = paper.passes[0].pass->steps[static_cast<std::size_t>(n)];
  // The first line's note is done meanwhile by other means: the plan now begins elsewhere.
  write(MoveMade{Adjuster::capstan,
                 paper.passes[0].pass->steps[static_cast<std::size_t>(n - 1)].key, 0.25, ""});
  write(ReadingTaken{Reading::blow,
                     paper.passes[0].pass->steps[static_cast<std::size_t>(n - 1)].key, 45, 0.05, "",
                     ""});
  const auto back = type_back(desk_, piano_, paper.passes[0].code, {std::to_string(n + 1) + " ="});
  ASSERT_TRUE(back) << back.error().problem.sentence();
  EXPECT_EQ(back->lines[0].key, asked.key);
  EXPECT_EQ(std::get<MoveMade>(back->lines[0].entries[0].content).amount, asked.amount);
  // A sheet of a journal longer than this one.
  EXPECT_FALSE(type_back(desk_, piano_, bench_code(piano_, Adjuster::capstan, 99999), {"1 ="}));
}

}  // namespace
}  // namespace batten

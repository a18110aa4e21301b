// Moves, preparation, settings, remarks and undo: right words are kept, others keep nothing.
#include "app/entries.hpp"

#include "app/readings.hpp"
#include "tests/app/desk_fixture.hpp"

#include <gmock/gmock.h>
#include <map>

namespace batten {
namespace {

using ::testing::HasSubstr;

class Entries : public DeskTest {
 protected:
  template <class T>
  void refused(const Result<T>& result, const std::string& word) {
    ASSERT_FALSE(result);
    EXPECT_THAT(result.error().sentence(), HasSubstr(word));
    EXPECT_EQ(entries_kept(), 1U);  // the sections, from the beginning
  }
};

TEST_F(Entries, AMoveIsKeptWithItsSign) {
  const auto amount = [&](const char* adjuster, const char* text) {
    const auto kept = record_move(desk_, piano_, adjuster, "C4", text);
    EXPECT_TRUE(kept) << text;
    return kept ? std::get<MoveMade>(kept->content).amount : 0;
  };
  EXPECT_DOUBLE_EQ(amount("capstan", "raise 3/64"), 3.0 / 64);
  EXPECT_DOUBLE_EQ(amount("capstan", "lower 1/8 turn"), -0.125);
  EXPECT_DOUBLE_EQ(amount("capstan", "+1/16"), 0.0625);
  EXPECT_DOUBLE_EQ(amount("capstan", "-1/16"), -0.0625);
  EXPECT_DOUBLE_EQ(amount("capstan", "−45°"), -0.125);
  EXPECT_DOUBLE_EQ(amount("balance-punchings", "add 0.1 mm"), 0.1);
  EXPECT_DOUBLE_EQ(amount("balance-punchings", "take out 0.005 in"), -0.127);  // × 25.4
  EXPECT_EQ(entries_kept(), 8U);
}

TEST_F(Entries, AMoveThatCannotBeReadKeepsNothing) {
  refused(record_move(desk_, piano_, "capstan", "C4", "3/64"), "no direction");
  refused(record_move(desk_, piano_, "capstan", "C4", "raise"), "");
  refused(record_move(desk_, piano_, "capstan", "C4", "raise 0"), "moves nothing");
  refused(record_move(desk_, piano_, "capstan", "C4", "raise -1/8"), "moves nothing");
  refused(record_move(desk_, piano_, "capstan", "C4", "raise 1 mm"), "turn");
  refused(record_move(desk_, piano_, "capstan", "C4", "raise 3"), "slip");
  refused(record_move(desk_, piano_, "capstan", "H4", "raise 1/8"), "H4");
  refused(record_move(desk_, piano_, "capstan", "B8", "raise 1/8"), "B8");
  refused(record_move(desk_, piano_, "screw", "C4", "raise 1/8"), "let-off-button");
}

TEST_F(Entries, AMoveIsLeftWithAReason) {
  const auto at = skip_move(desk_, piano_, "Drop screw", "C8", "split");
  ASSERT_TRUE(at);
  EXPECT_EQ(at->content, EntryContent(MoveSkipped{Adjuster::drop_screw, Key{88}, "split"}));
  EXPECT_TRUE(skip_move(desk_, piano_, "damper-wire", "", "no time"));
  EXPECT_TRUE(skip_move(desk_, piano_, "shift-stop", "-", "no spanner"));
  EXPECT_EQ(standing(desk_, piano_)->skips.size(), 3U);
  ASSERT_TRUE(record_move(desk_, piano_, "drop-screw", "C8", "more drop 1/8"));
  EXPECT_EQ(standing(desk_, piano_)->skips.size(), 2U);
  ASSERT_TRUE(undo(desk_, piano_));
  ASSERT_TRUE(undo(desk_, piano_));
  EXPECT_EQ(standing(desk_, piano_)->skips.size(), 2U);  // the screw again, the stop no more
}

TEST_F(Entries, ASkipThatCannotBeReadKeepsNothing) {
  refused(skip_move(desk_, piano_, "drop-screw", "C8", ""), "reason");
  refused(skip_move(desk_, piano_, "screw", "C8", "split"), "let-off-button");
  refused(skip_move(desk_, piano_, "drop-screw", "C9", "split"), "C9");
  refused(skip_move(desk_, piano_, "shift-stop", "C4", "split"), "whole piano");
}

TEST_F(Entries, APedalIsMovedWithoutANote) {
  const auto kept = record_move(desk_, piano_, "shift-stop", "", "less shift 0.5 mm");
  ASSERT_TRUE(kept);
  EXPECT_EQ(kept->content, EntryContent(MoveMade{Adjuster::shift_stop, {}, -0.5, ""}));
  EXPECT_FALSE(record_move(desk_, piano_, "shift-stop", "C4", "less shift 0.5 mm"));
  EXPECT_FALSE(record_move(desk_, piano_, "capstan", "", "raise 1/16"));
  EXPECT_EQ(entries_kept(), 2U);
}

TEST_F(Entries, PreparationIsKeptOrRefused) {
  const auto kept = note_preparation(desk_, piano_, "Screws tight", "done", "", "");
  ASSERT_TRUE(kept);
  EXPECT_EQ(std::get<PreparationNoted>(kept->content).state, PreparationState::done);
  const auto at = note_preparation(desk_, piano_, "hammers-square", "wanting", "F#3", "");
  EXPECT_EQ(std::get<PreparationNoted>(at->content).note, Key{34});  // F#3 is the 34th key
  EXPECT_TRUE(note_preparation(desk_, piano_, "felts-sound", "waived", "", "new in summer"));
}

TEST_F(Entries, PreparationThatCannotBeReadKeepsNothing) {
  refused(note_preparation(desk_, piano_, "screws", "done", "", ""), "screws-tight");
  refused(note_preparation(desk_, piano_, "screws-tight", "ok", "", ""), "wanting");
  refused(note_preparation(desk_, piano_, "screws-tight", "waived", "", ""), "reason");
  refused(note_preparation(desk_, piano_, "screws-tight", "done", "X1", ""), "X1");
}

TEST_F(Entries, ASettingIsKeptOrRefused) {
  EXPECT_TRUE(choose_setting(desk_, piano_, "blow-target", "46 to 45 mm"));
  EXPECT_EQ(standing(desk_, piano_)->settings.at("blow-target"), "46 to 45 mm");
}

TEST_F(Entries, SettingsOfEveryPartAreKept) {
  const std::map<std::string, std::string> settings{
      {"grade", "stage"},         {"papers", "0.05 0.1"},     {"dip-tolerance", "0.15, 0.1"},
      {"capstan-limit", "1/2"},   {"lacks", "drop-screw C8"}, {"one-string-to", "F1"},
      {"two-strings-to", "E2"},   {"undamped-from", "F#6"},   {"dip-target", "10 mm"},
      {"capstan-minutes", "0.3"}, {"turn-step", "1/32"}};
  for (const auto& [name, value] : settings)
    EXPECT_TRUE(choose_setting(desk_, piano_, name, value));
  const auto now = standing(desk_, piano_)->settings;
  for (const auto& [name, value] : settings) EXPECT_EQ(now.at(name), value);
  // Each can be read, both together cannot.
  const auto crossed = choose_setting(desk_, piano_, "two-strings-to", "C1");
  ASSERT_FALSE(crossed);
  EXPECT_THAT(crossed.error().kept, HasSubstr("not changed"));
}

TEST_F(Entries, ASettingThatCannotBeReadKeepsNothing) {
  refused(choose_setting(desk_, piano_, "dip-tolerance", "0.1"), "dip-tolerance");
  refused(choose_setting(desk_, piano_, "lacks", "screw C4"), "lacks");
  refused(choose_setting(desk_, piano_, "out-of-service", "C4-D4"), "out-of-service");
  refused(choose_setting(desk_, piano_, "blow-target", "20"), "blow-target");
  refused(choose_setting(desk_, piano_, "colour", "blue"), "turn-step");
  refused(choose_setting(desk_, piano_, "sections", "E2 wall"), "sections");
}

TEST_F(Entries, SectionsThatWouldSpoilAnotherSettingAreRefused) {
  ASSERT_TRUE(choose_setting(desk_, piano_, "blow-target", "46; 46; 45; 45"));
  const auto changed = choose_setting(desk_, piano_, "sections", "E2 bridge");
  ASSERT_FALSE(changed);
  EXPECT_THAT(changed.error().sentence(), HasSubstr("blow-target"));
  EXPECT_EQ(standing(desk_, piano_)->settings.at("sections"), "E2 bridge, A#4 strut, D6 strut");
}

TEST_F(Entries, ARemarkIsKeptOrRefused) {
  refused(remark(desk_, piano_, "", ""), "empty");
  refused(remark(desk_, piano_, "C9", "x"), "C9");
  ASSERT_TRUE(remark(desk_, piano_, "C4", "knuckle replaced"));
  EXPECT_EQ(standing(desk_, piano_)->remarks.size(), 1U);
}

TEST_F(Entries, KeepIsAllOrNothing) {
  const Visit visit = *current_visit(desk_, piano_);
  // The second cannot be kept: not UTF-8.
  const auto kept =
      keep(desk_, piano_, {Remark{std::nullopt, "good"}, Remark{std::nullopt, "\xff"}});
  EXPECT_FALSE(kept);
  EXPECT_EQ(entries_kept(), 1U);
}

TEST_F(Entries, EveryKindOfEntryCanBeTakenBack) {
  ASSERT_TRUE(take_reading(desk_, piano_, {"string-height", "C4", "195", "", ""}));
  ASSERT_TRUE(record_move(desk_, piano_, "capstan", "C4", "raise 1/8"));
  ASSERT_TRUE(note_preparation(desk_, piano_, "screws-tight", "done", "", ""));
  ASSERT_TRUE(choose_setting(desk_, piano_, "turn-step", "1/32"));
  ASSERT_TRUE(skip_move(desk_, piano_, "let-off-button", "C4", "worn"));
  ASSERT_TRUE(remark(desk_, piano_, "", "x"));
  for (int i = 0; i < 6; ++i) ASSERT_TRUE(undo(desk_, piano_)) << i;
  const auto now = *standing(desk_, piano_);
  EXPECT_TRUE(now.readings.empty() && now.moves.empty() && now.preparation.empty() &&
              now.remarks.empty() && now.skips.empty());
  EXPECT_EQ(now.settings.size(), 1U);
  EXPECT_EQ(entries_kept(), 13U);    // nothing is ever removed
  ASSERT_TRUE(undo(desk_, piano_));  // the sections
  const auto nothing = undo(desk_, piano_);
  ASSERT_FALSE(nothing);
  EXPECT_THAT(nothing.error().happened, HasSubstr("nothing to take back"));
}

TEST_F(Entries, AnyEntryCanBeTakenBackByItsBeginningAndComesBackByUndoingTheUndo) {
  const auto first = *remark(desk_, piano_, "", "first");
  ASSERT_TRUE(remark(desk_, piano_, "", "second"));
  const auto taken = undo(desk_, piano_, to_text(first.id).substr(0, 8));
  ASSERT_TRUE(taken);
  EXPECT_EQ(taken->id, first.id);
  EXPECT_EQ(standing(desk_, piano_)->remarks.size(), 1U);
  const Entry the_undo = history(desk_, piano_)->back().entry;
  ASSERT_TRUE(undo(desk_, piano_, to_text(the_undo.id)));
  EXPECT_EQ(standing(desk_, piano_)->remarks.size(), 2U);
}

// Twice by name would need two undos of the undos: refused instead.
TEST_F(Entries, WhatIsTakenBackAlreadyIsNotTakenBackAgain) {
  const auto first = *remark(desk_, piano_, "", "first");
  ASSERT_TRUE(undo(desk_, piano_, to_text(first.id)));
  const auto again = undo(desk_, piano_, to_text(first.id));
  ASSERT_FALSE(again);
  EXPECT_THAT(again.error().happened, HasSubstr("already"));
  EXPECT_EQ(entries_kept(), 3U);
}

TEST_F(Entries, AnIdentityThatNamesNoEntryKeepsNothing) {
  refused(undo(desk_, piano_, "abc"), "four characters");
  refused(undo(desk_, piano_, "zzzzzz"), "batten history");
}

}  // namespace
}  // namespace batten

#include "core/journal/fold.hpp"

#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::Pair;
using testing::SizeIs;

Uuid id(std::uint8_t n) {
  Uuid made;
  made.bytes[15] = n;
  return made;
}

Entry entry(std::uint8_t n, EntryContent content) {
  return {id(n), id(200), 1000 + n, "Ada", std::move(content)};
}
Entry reading(std::uint8_t n, double value) {
  return entry(n, ReadingTaken{Reading::string_height, Key{40}, value, 0.1, "", ""});
}
Entry undo(std::uint8_t n, std::uint8_t of) { return entry(n, Undo{id(of)}); }
Entry preparation(std::uint8_t n, std::optional<Key> note, PreparationState state) {
  return entry(n, PreparationNoted{PreparationItem::screws_tight, note, state, ""});
}

// What undo, redo and joined journals must do follows from the promise in fold.hpp, "in force
// unless an undo in force names it"; each answer here is worked out by hand.

TEST(Fold, SortsEntriesByKindAndKeepsTheirOrder) {
  const std::vector<Entry> journal{reading(1, 190),
                                   entry(2, MoveMade{Adjuster::capstan, Key{40}, 0.25, ""}),
                                   reading(3, 191),
                                   entry(4, Remark{std::nullopt, "moth in the felt"}),
                                   entry(5, SettingChosen{"sections", "E2 bridge"}),
                                   entry(6, SettingChosen{"sections", "F2 bridge"})};
  const Standing standing = fold(journal);
  EXPECT_THAT(standing.readings, ElementsAre(journal[0], journal[2]));
  EXPECT_THAT(standing.moves, ElementsAre(journal[1]));
  EXPECT_THAT(standing.remarks, ElementsAre(journal[3]));
  EXPECT_THAT(standing.settings, ElementsAre(Pair("sections", "F2 bridge")));
  EXPECT_THAT(standing.skips, IsEmpty());
}

// When a skip ends is the promise of fold.hpp; what a reading shows is the catalogue's.

Entry move(std::uint8_t n, Adjuster adjuster, std::optional<Key> note) {
  return entry(n, MoveMade{adjuster, note, 1, ""});
}
Entry skip(std::uint8_t n, Adjuster adjuster, std::optional<Key> note) {
  return entry(n, MoveSkipped{adjuster, note, "worn"});
}
Entry read_at(std::uint8_t n, Reading what, std::optional<Key> note) {
  return entry(n, ReadingTaken{what, note, 1, 0.1, "", ""});
}
bool stands(const std::vector<Entry>& journal) { return fold(journal).skips.size() == 1; }

TEST(Fold, ASkipStandsWithItsPlace) {
  const std::vector<Entry> journal{reading(1, 190), skip(2, Adjuster::drop_screw, Key{40}),
                                   skip(3, Adjuster::capstan, std::nullopt),
                                   entry(4, Remark{Key{40}, "x"})};
  const Standing standing = fold(journal);
  EXPECT_THAT(standing.skips, ElementsAre(journal[1], journal[2]));
  EXPECT_THAT(standing.skip_places, ElementsAre(1U, 2U));
  EXPECT_THAT(standing.moves, IsEmpty());
}

TEST(Fold, ALaterMoveOfTheSameAtTheSameNoteEndsASkip) {
  const Entry skipped = skip(1, Adjuster::drop_screw, Key{40});
  EXPECT_FALSE(stands({skipped, move(2, Adjuster::drop_screw, Key{40})}));
  EXPECT_TRUE(stands({skipped, move(2, Adjuster::drop_screw, Key{41})}));
  EXPECT_TRUE(stands({skipped, move(2, Adjuster::capstan, Key{40})}));
  EXPECT_TRUE(stands({move(2, Adjuster::drop_screw, Key{40}), skipped}));
}

TEST(Fold, ALaterReadingOfWhatItSetsEndsASkip) {
  const Entry skipped = skip(1, Adjuster::front_punchings, Key{40});
  for (const Reading shown : {Reading::dip, Reading::sharp_dip, Reading::aftertouch}) {
    EXPECT_FALSE(stands({skipped, read_at(2, shown, Key{40})}));
    EXPECT_TRUE(stands({skipped, read_at(2, shown, Key{41})}));
    EXPECT_TRUE(stands({read_at(2, shown, Key{40}), skipped}));
  }
  EXPECT_TRUE(stands({skipped, read_at(2, Reading::blow, Key{40})}));
  EXPECT_TRUE(stands({skipped, read_at(2, Reading::humidity, std::nullopt)}));
  EXPECT_FALSE(stands({skip(1, Adjuster::shift_stop, std::nullopt),
                       read_at(2, Reading::shift_distance, std::nullopt)}));
  // The line of the tabs is read once for all of them.
  EXPECT_FALSE(stands({skip(1, Adjuster::sostenuto_tab, Key{40}),
                       read_at(2, Reading::sostenuto_tab_line, std::nullopt)}));
}

TEST(Fold, ASkipOfEveryNoteEndsWithAMoveAnywhereAndNoReadingOfOneNote) {
  const Entry skipped = skip(1, Adjuster::damper_wire, std::nullopt);
  EXPECT_FALSE(stands({skipped, move(2, Adjuster::damper_wire, Key{3})}));
  EXPECT_TRUE(stands({skipped, read_at(2, Reading::damper_start, Key{3})}));
  // Said of one note as well, each ends by itself.
  const std::vector<Entry> both{skipped, skip(2, Adjuster::damper_wire, Key{5})};
  EXPECT_THAT(fold(both).skips, SizeIs(2));
  std::vector<Entry> moved = both;
  moved.push_back(move(3, Adjuster::damper_wire, Key{3}));
  EXPECT_THAT(fold(moved).skips, ElementsAre(both[1]));
  EXPECT_THAT(fold(moved).skip_places, ElementsAre(1U));
}

TEST(Fold, ALaterSkipOfTheSameTakesTheEarliersPlace) {
  const std::vector<Entry> journal{skip(1, Adjuster::capstan, Key{40}),
                                   skip(2, Adjuster::capstan, Key{41}),
                                   skip(3, Adjuster::capstan, Key{40})};
  EXPECT_THAT(fold(journal).skips, ElementsAre(journal[1], journal[2]));
  EXPECT_THAT(fold(journal).skip_places, ElementsAre(1U, 2U));
}

TEST(Fold, UndoingASkipOrWhatEndedIt) {
  const Entry skipped = skip(1, Adjuster::capstan, Key{40});
  EXPECT_FALSE(stands({skipped, undo(2, 1)}));
  EXPECT_TRUE(stands({skipped, move(2, Adjuster::capstan, Key{40}), undo(3, 2)}));
  EXPECT_TRUE(stands({skipped, skip(2, Adjuster::capstan, Key{40}), undo(3, 2)}));
  EXPECT_EQ(last_in_force({reading(1, 190), skip(2, Adjuster::capstan, Key{40})})->id, id(2));
}

TEST(Fold, UndoTakesBackAndUndoOfUndoRestores) {
  EXPECT_THAT(fold({reading(1, 190), undo(2, 1)}).readings, IsEmpty());
  EXPECT_THAT(fold({reading(1, 190), undo(2, 1), undo(3, 2)}).readings, SizeIs(1));
  EXPECT_THAT(fold({reading(1, 190), undo(2, 1), undo(3, 2), undo(4, 3)}).readings, IsEmpty());
}

TEST(Fold, UndoingASettingBringsTheOneBefore) {
  const Standing standing = fold(
      {entry(1, SettingChosen{"blow", "46"}), entry(2, SettingChosen{"blow", "45"}), undo(3, 2)});
  EXPECT_THAT(standing.settings, ElementsAre(Pair("blow", "46")));
}

TEST(Fold, AnUndoMayStandBeforeItsEntry) {
  EXPECT_THAT(fold({undo(2, 1), reading(1, 190)}).readings, IsEmpty());
  EXPECT_THAT(fold({undo(3, 2), undo(2, 1), reading(1, 190)}).readings, SizeIs(1));
}

TEST(Fold, AnUndoOfAnUnknownEntryDoesNothing) {
  EXPECT_THAT(fold({reading(1, 190), undo(2, 77)}).readings, SizeIs(1));
}

TEST(Fold, TwoUndosOfOneEntryMustBothBeUndone) {
  EXPECT_THAT(fold({reading(1, 190), undo(2, 1), undo(3, 1), undo(4, 2)}).readings, IsEmpty());
  EXPECT_THAT(fold({reading(1, 190), undo(2, 1), undo(3, 1), undo(4, 2), undo(5, 3)}).readings,
              SizeIs(1));
}

TEST(Fold, TheSameEntryTwiceCountsOnce) {
  EXPECT_THAT(fold({reading(1, 190), reading(1, 190)}).readings, SizeIs(1));
  EXPECT_THAT(fold({reading(1, 190), undo(2, 1), reading(1, 190), undo(2, 1)}).readings, IsEmpty());
}

TEST(Fold, UndosInARingTakeNothingBack) {
  EXPECT_THAT(in_force({reading(1, 190), undo(2, 3), undo(3, 2), undo(4, 4)}),
              ElementsAre(true, false, false, false));
}

TEST(Fold, AWordForTheWholePianoCoversWhatWasSaidOfNotesBefore) {
  const std::pair c4{PreparationItem::screws_tight, Key{40}};
  const Standing note_last = fold({preparation(1, std::nullopt, PreparationState::found),
                                   preparation(2, Key{40}, PreparationState::wanting)});
  EXPECT_EQ(note_last.preparation.at(PreparationItem::screws_tight).state, PreparationState::found);
  EXPECT_EQ(note_last.preparation_of_note.at(c4).state, PreparationState::wanting);

  const Standing piano_last = fold({preparation(1, Key{40}, PreparationState::wanting),
                                    preparation(2, std::nullopt, PreparationState::done)});
  EXPECT_EQ(piano_last.preparation.at(PreparationItem::screws_tight).state, PreparationState::done);
  EXPECT_EQ(piano_last.preparation.at(PreparationItem::screws_tight).at_ms, 1002);
  EXPECT_THAT(piano_last.preparation_of_note, IsEmpty());
}

TEST(Fold, LastInForceIsWhatAnUndoWouldTakeBack) {
  EXPECT_EQ(last_in_force({}), std::nullopt);
  EXPECT_EQ(last_in_force({undo(1, 9)}), std::nullopt);
  const std::vector<Entry> journal{reading(1, 190), reading(2, 191), undo(3, 2)};
  EXPECT_EQ(last_in_force(journal), journal[0]);
}

}  // namespace
}  // namespace batten

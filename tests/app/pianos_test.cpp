// Pianos and visits.
#include "app/entries.hpp"
#include "tests/app/desk_fixture.hpp"

#include <gmock/gmock.h>

namespace batten {
namespace {

using ::testing::HasSubstr;

class Pianos : public DeskTest {};

TEST_F(Pianos, ANewPianoHasItsFirstVisitAndSections) {
  EXPECT_EQ(current_visit(desk_, piano_)->title, "first visit");
  EXPECT_EQ(standing(desk_, piano_)->settings.at("sections"), "E2 bridge, A#4 strut, D6 strut");
  EXPECT_EQ(history(desk_, piano_)->front().entry.who, "Mira");
}

TEST_F(Pianos, BadSectionsAddNothing) {
  const auto added = add_piano(desk_, {"Other", "", {}, "E2 wall"});
  ASSERT_FALSE(added);
  EXPECT_EQ(list_pianos(desk_)->size(), 1U);
}

TEST_F(Pianos, ATakenOrEmptyNameAddsNothing) {
  EXPECT_FALSE(add_piano(desk_, {"studio GRAND", "", {}, ""}));
  EXPECT_FALSE(add_piano(desk_, {"", "", {}, ""}));
  EXPECT_EQ(list_pianos(desk_)->size(), 1U);
  EXPECT_EQ(entries_kept(), 1U);
}

TEST_F(Pianos, AreChosenByNameBeginningOrIdentity) {
  const Piano hall = *add_piano(desk_, {"Hall grand", "", {}, ""});
  const Piano house = *add_piano(desk_, {"House grand", "", {}, ""});
  EXPECT_EQ(choose_piano(desk_, "Studio grand")->id, piano_.id);
  EXPECT_EQ(choose_piano(desk_, "hal")->id, hall.id);
  EXPECT_EQ(choose_piano(desk_, to_text(house.id))->id, house.id);
  const auto both = choose_piano(desk_, "H");
  ASSERT_FALSE(both);
  EXPECT_THAT(both.error().sentence(), HasSubstr("Hall grand"));
  EXPECT_THAT(both.error().sentence(), HasSubstr("House grand"));
  const auto none = choose_piano(desk_, "Upright");
  ASSERT_FALSE(none);
  EXPECT_THAT(none.error().sentence(), HasSubstr("Studio grand"));
}

TEST_F(Pianos, WithoutAWordTheOneVisitedLastIsMeant) {
  const Piano hall = *add_piano(desk_, {"Hall grand", "", {}, ""});
  EXPECT_EQ(choose_piano(desk_, "")->id, hall.id);
  ASSERT_TRUE(begin_visit(desk_, piano_, "the next day"));
  EXPECT_EQ(choose_piano(desk_, "")->id, piano_.id);
}

TEST_F(Pianos, AnEmptyStoreSaysHowToBegin) {
  auto empty = open_desk(folder_ / "other.store", "");
  const auto chosen = choose_piano(*empty, "");
  ASSERT_FALSE(chosen);
  EXPECT_THAT(chosen.error().todo, HasSubstr("batten add"));
}

TEST_F(Pianos, EntriesGoToTheLatestVisit) {
  const Visit first = *current_visit(desk_, piano_);
  const Visit second = *begin_visit(desk_, piano_, "before the May recital");
  ASSERT_TRUE(remark(desk_, piano_, "", "dry hall"));
  EXPECT_EQ(history(desk_, piano_)->back().visit_title, "before the May recital");
  EXPECT_EQ(history(desk_, piano_)->back().entry.visit, second.id);
  EXPECT_EQ(history(desk_, piano_)->front().entry.visit, first.id);
}

TEST_F(Pianos, APianoNotInTheStoreIsRefusedEverywhere) {
  Piano ghost = piano_;
  ghost.id = desk_.new_id();
  EXPECT_FALSE(begin_visit(desk_, ghost, "x"));
  EXPECT_FALSE(current_visit(desk_, ghost));
  EXPECT_FALSE(history(desk_, ghost));
  EXPECT_FALSE(standing(desk_, ghost));
  EXPECT_FALSE(remark(desk_, ghost, "", "x"));
  EXPECT_FALSE(undo(desk_, ghost));
  EXPECT_EQ(entries_kept(), 1U);
}

TEST_F(Pianos, ShorterAndLongerKeyboards) {
  const Piano old = *add_piano(desk_, {"Old grand", "", {Key{1}, Key{85}}, "E2 bridge"});
  EXPECT_EQ(compass_of(old), (Compass{Key{1}, Key{85}}));
  EXPECT_FALSE(remark(desk_, old, "C8", "x"));
  EXPECT_FALSE(add_piano(desk_, {"Impossible", "", {Key{1}, Key{20}}, ""}));
}

// A clock that was once a year ahead must not make later visits vanish behind that one.
TEST_F(Pianos, AVisitFollowsOneBegunUnderAWrongClock) {
  const auto clock = desk_.now_ms;
  desk_.now_ms = [] { return std::int64_t{4'000'000'000'000}; };
  ASSERT_TRUE(begin_visit(desk_, piano_, "clock ahead"));
  desk_.now_ms = clock;
  const auto today = begin_visit(desk_, piano_, "today");
  ASSERT_TRUE(today);
  EXPECT_EQ(current_visit(desk_, piano_)->id, today->id);
}

}  // namespace
}  // namespace batten

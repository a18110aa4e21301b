#include "records/store.hpp"

#include "records/identity.hpp"
#include "tests/records/samples.hpp"

#include <gmock/gmock.h>
#include <limits>
#include <sqlite3.h>
#include <thread>

namespace batten {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

class StoreTest : public testing::Test {
 protected:
  Store open() { return Store::open(folder_ / "pianos.store"); }
  // With one piano and one visit.
  Store open_with_visit() {
    Store store = open();
    EXPECT_TRUE(store.add_piano(piano_));
    EXPECT_TRUE(store.add_visit(piano_.id, visit_));
    return store;
  }

  samples::Folder folder_;
  const Piano piano_ = samples::piano();
  const Visit visit_ = samples::visit();
};

TEST_F(StoreTest, EveryKindOfEntryComesBackAsItWas) {
  const std::vector<Entry> journal = samples::every_kind(visit_);
  {
    Store store = open_with_visit();
    EXPECT_EQ(store.append(piano_.id, journal).value().added, journal.size());
    EXPECT_EQ(store.entries(piano_.id).value(), journal);
  }
  Store again = open();
  EXPECT_EQ(again.entries(piano_.id).value(), journal);
  EXPECT_THAT(again.check(), IsEmpty());
}

TEST_F(StoreTest, EveryReadingAdjusterAndItemOfTheCatalogueComesBack) {
  std::vector<Entry> journal;
  std::uint32_t number = 0;
  const auto add = [&](EntryContent content) {
    journal.push_back({samples::identity(5, ++number), visit_.id, 0, "", std::move(content)});
  };
  for (const ReadingKind& kind : reading_kinds()) add(ReadingTaken{kind.id, Key{1}, 1, 1, "", ""});
  for (const AdjusterKind& kind : adjuster_kinds()) {
    const auto note =
        kind.scope == Scope::per_note ? std::optional<Key>(Key{1}) : std::optional<Key>();
    add(MoveMade{kind.id, note, 1, ""});
    add(MoveSkipped{kind.id, note, "later"});
  }
  for (const PreparationKind& kind : preparation_kinds()) {
    add(PreparationNoted{kind.id, Key{1}, PreparationState::done, ""});
  }
  Store store = open_with_visit();
  ASSERT_TRUE(store.append(piano_.id, journal));
  EXPECT_EQ(store.entries(piano_.id).value(), journal);
}

TEST_F(StoreTest, AnEntrySentTwiceIsNotDoubled) {
  Store store = open_with_visit();
  std::vector<Entry> journal{samples::reading(1, visit_), samples::reading(2, visit_)};
  ASSERT_TRUE(store.append(piano_.id, journal));
  journal.push_back(samples::reading(3, visit_));
  journal.push_back(samples::reading(3, visit_));
  const AppendOutcome outcome = store.append(piano_.id, journal).value();
  EXPECT_EQ(outcome.added, 1U);
  EXPECT_EQ(outcome.already_there, 3U);
  EXPECT_THAT(store.entries(piano_.id).value(), SizeIs(3));
}

TEST_F(StoreTest, TheSameIdentityWithOtherContentIsRefusedAndNothingIsKept) {
  Store store = open_with_visit();
  const Entry there = samples::reading(1, visit_);
  ASSERT_TRUE(store.append(piano_.id, std::vector{there}));
  Entry other = there;
  std::get<ReadingTaken>(other.content).value += 1e-9;
  const auto refused = store.append(piano_.id, std::vector{samples::reading(2, visit_), other});
  ASSERT_FALSE(refused);
  EXPECT_THAT(refused.error().happened, HasSubstr("other content"));
  EXPECT_THAT(store.entries(piano_.id).value(), ElementsAre(there));
}

TEST_F(StoreTest, AnEntryOfOnePianoIsNotAcceptedForAnother) {
  Store store = open_with_visit();
  const Piano second = samples::piano(2);
  const Visit its_visit = samples::visit(2);
  ASSERT_TRUE(store.add_piano(second));
  ASSERT_TRUE(store.add_visit(second.id, its_visit));
  EXPECT_FALSE(store.append(second.id, std::vector{samples::reading(1, visit_)}));
  ASSERT_TRUE(store.append(piano_.id, std::vector{samples::reading(1, visit_)}));
  EXPECT_FALSE(store.append(second.id, std::vector{samples::reading(1, its_visit)}));
  EXPECT_THAT(store.entries(second.id).value(), IsEmpty());
}

TEST_F(StoreTest, RefusesEntriesThatWouldMeanNothing) {
  Store store = open_with_visit();
  const auto refuses = [&](EntryContent content) {
    const Entry entry{make_uuid(), visit_.id, 0, "", std::move(content)};
    const auto answer = store.append(piano_.id, std::vector{entry});
    return !answer && !answer.error().happened.empty();
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  const auto reading = [](double value, double uncertainty, std::string typed = "") {
    return ReadingTaken{Reading::drop, Key{1}, value, uncertainty, "", std::move(typed)};
  };
  EXPECT_FALSE(refuses(reading(1, 0.1)));
  EXPECT_TRUE(refuses(reading(nan, 0.1)));
  EXPECT_TRUE(refuses(reading(infinity, 0.1)));
  EXPECT_TRUE(refuses(reading(1, 0)));
  EXPECT_TRUE(refuses(reading(1, -1)));
  EXPECT_TRUE(refuses(reading(1, nan)));
  EXPECT_TRUE(refuses(reading(1, infinity)));
  EXPECT_TRUE(refuses(MoveMade{Adjuster::capstan, Key{1}, nan, ""}));
  EXPECT_TRUE(refuses(MoveMade{Adjuster::capstan, Key{96}, 1, ""}));
  EXPECT_TRUE(refuses(MoveMade{Adjuster::capstan, std::nullopt, 1, ""}));
  EXPECT_TRUE(refuses(MoveMade{Adjuster::shift_stop, Key{1}, 1, ""}));
  EXPECT_TRUE(refuses(MoveSkipped{Adjuster::capstan, Key{1}, ""}));
  EXPECT_TRUE(refuses(MoveSkipped{Adjuster::capstan, Key{96}, "why"}));
  EXPECT_TRUE(refuses(MoveSkipped{Adjuster::shift_stop, Key{1}, "why"}));
  EXPECT_TRUE(refuses(MoveSkipped{Adjuster::capstan, Key{1}, "\xff"}));
  EXPECT_TRUE(refuses(Remark{Key{-9}, "no such key"}));
  EXPECT_TRUE(refuses(SettingChosen{"", "x"}));
  EXPECT_TRUE(refuses(Undo{}));
  EXPECT_TRUE(refuses(
      PreparationNoted{PreparationItem::felts_sound, std::nullopt, PreparationState::waived, ""}));
  // Ill-formed per Unicode 15, table 3-7: a lone byte, an overlong form, half a pair, too high.
  for (const char* text :
       {"\xff", "\xc0\xaf", "\xe0\x80\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80", "cut \xe2\x82"}) {
    EXPECT_TRUE(refuses(reading(1, 0.1, text)));
  }
  for (const char* text : {"\xc2\x80", "\xe0\xa0\x80", "\xed\x9f\xbf", "\xf4\x8f\xbf\xbf"}) {
    EXPECT_FALSE(refuses(reading(1, 0.1, text)));
  }
}

TEST_F(StoreTest, UnknownPianosAndVisitsAreErrorsNotFailures) {
  Store store = open_with_visit();
  const Uuid nobody = make_uuid();
  EXPECT_FALSE(store.entries(nobody));
  EXPECT_FALSE(store.visits(nobody));
  EXPECT_FALSE(store.latest_visit(nobody));
  EXPECT_FALSE(store.add_visit(nobody, samples::visit(2)));
  EXPECT_FALSE(store.append(nobody, std::vector{samples::reading(1, visit_)}));
  EXPECT_FALSE(store.append(piano_.id, std::vector{samples::reading(1, samples::visit(2))}));
}

TEST_F(StoreTest, PianosAreListedByNameWithTheirLatestVisit) {
  Store store = open();
  Piano b = samples::piano(1);
  b.name = "bosk";
  Piano a = samples::piano(2);
  a.name = "Alder";
  a.lowest_key = -8;
  ASSERT_TRUE(store.add_piano(b));
  ASSERT_TRUE(store.add_piano(a));
  Visit late = samples::visit(1);
  late.begun_ms = 5000;
  Visit early = samples::visit(2);
  early.begun_ms = 4000;
  ASSERT_TRUE(store.add_visit(b.id, late));
  ASSERT_TRUE(store.add_visit(b.id, early));
  ASSERT_TRUE(store.append(b.id, std::vector{samples::reading(1, early)}));

  const std::vector<PianoSummary> all = store.pianos();
  ASSERT_THAT(all, SizeIs(2));
  EXPECT_EQ(all[0].piano, a);
  EXPECT_EQ(all[0].visit_count, 0);
  EXPECT_EQ(all[0].latest_visit, std::nullopt);
  EXPECT_EQ(all[1].piano, b);
  EXPECT_EQ(all[1].visit_count, 2);
  EXPECT_EQ(all[1].entry_count, 1);
  EXPECT_EQ(all[1].latest_visit, late);
  EXPECT_THAT(store.visits(b.id).value(), ElementsAre(early, late));
  EXPECT_EQ(store.latest_visit(b.id).value(), late);
  EXPECT_EQ(store.latest_visit(a.id).value(), std::nullopt);
}

TEST_F(StoreTest, PianosAreFoundByTheBeginningOfTheirName) {
  Store store = open();
  EXPECT_THAT(store.find_piano("x").error().happened, HasSubstr("no piano in this store"));
  std::uint32_t number = 0;
  for (const char* name : {"Hall", "Hall upstairs", "Studio 100%", "Studio 1000", "Übungsraum"}) {
    Piano piano = samples::piano(++number);
    piano.name = name;
    ASSERT_TRUE(store.add_piano(piano));
  }
  EXPECT_EQ(store.find_piano("hall")->name, "Hall");  // whole names before beginnings
  EXPECT_EQ(store.find_piano("HALL U")->name, "Hall upstairs");
  EXPECT_EQ(store.find_piano("studio 100%")->name, "Studio 100%");  // no wildcard
  EXPECT_EQ(store.find_piano("Üb")->name, "Übungsraum");
  EXPECT_EQ(store.find_piano(to_text(samples::identity(1, 2)))->name, "Hall upstairs");
  const auto several = store.find_piano("stu");
  ASSERT_FALSE(several);
  EXPECT_THAT(several.error().happened, HasSubstr("\"Studio 100%\", \"Studio 1000\""));
  const auto none = store.find_piano("_all");
  ASSERT_FALSE(none);
  EXPECT_THAT(none.error().todo, HasSubstr("\"Hall\""));
}

TEST_F(StoreTest, APianoOrVisitSentTwiceIsNotDoubled) {
  Store store = open_with_visit();
  EXPECT_TRUE(store.add_piano(piano_));
  EXPECT_TRUE(store.add_visit(piano_.id, visit_));
  EXPECT_THAT(store.pianos(), SizeIs(1));
  EXPECT_EQ(store.pianos().front().visit_count, 1);

  Piano moved = piano_;
  moved.place = "elsewhere";
  EXPECT_FALSE(store.add_piano(moved));
  Piano namesake = samples::piano(2);
  namesake.name = "PIANO 1";
  EXPECT_FALSE(store.add_piano(namesake));
  Visit renamed = visit_;
  renamed.title = "another";
  EXPECT_FALSE(store.add_visit(piano_.id, renamed));
  ASSERT_TRUE(store.add_piano(samples::piano(2)));
  EXPECT_FALSE(store.add_visit(samples::piano(2).id, visit_));
}

TEST_F(StoreTest, ImpossiblePianosAreRefused) {
  Store store = open();
  Piano nameless = piano_;
  nameless.name.clear();
  EXPECT_FALSE(store.add_piano(nameless));
  Piano short_one = piano_;
  short_one.highest_key = 60;
  EXPECT_FALSE(store.add_piano(short_one));
  Piano nil = piano_;
  nil.id = {};
  EXPECT_FALSE(store.add_piano(nil));
  EXPECT_THAT(store.pianos(), IsEmpty());
}

// The journal's own guards, tried from outside the program with plain SQLite.
TEST_F(StoreTest, NobodyChangesOrRemovesAnEntry) {
  const std::vector<Entry> journal = samples::every_kind(visit_);
  {
    Store store = open_with_visit();
    ASSERT_TRUE(store.append(piano_.id, journal));
  }
  sqlite3* plain = nullptr;
  ASSERT_EQ(sqlite3_open((folder_ / "pianos.store").c_str(), &plain), SQLITE_OK);
  const std::string row =
      " INTO entry (stamp, piano, seq, id, visit, at_ms, who, kind, text) "
      "SELECT (SELECT max(stamp) + 1 FROM entry), piano, ";
  for (const std::string& sql :
       {std::string("UPDATE entry SET value = 1"), std::string("UPDATE entry SET who = who"),
        std::string("DELETE FROM entry"), std::string("DELETE FROM entry WHERE seq = 1"),
        // What the entries hang on; plain SQLite does not look at foreign keys.
        std::string("DELETE FROM visit"), std::string("UPDATE visit SET title = 'x'"),
        std::string("DELETE FROM piano"),
        "INSERT OR REPLACE" + row +
            "1, randomblob(16), visit, 0, '', 'remark', '' FROM entry LIMIT 1",
        // A place left free, and one taken.
        "INSERT" + row + "99, randomblob(16), visit, 0, '', 'remark', '' FROM entry LIMIT 1",
        "INSERT" + row + "2, randomblob(16), visit, 0, '', 'remark', '' FROM entry LIMIT 1"}) {
    EXPECT_EQ(sqlite3_exec(plain, sql.c_str(), nullptr, nullptr, nullptr), SQLITE_CONSTRAINT)
        << sql;
  }
  // The statement refused above for its place is accepted at the right one.
  const std::string right = "INSERT" + row + std::to_string(journal.size() + 1) +
                            ", randomblob(16), visit, 0, '', 'remark', '' FROM entry LIMIT 1";
  EXPECT_EQ(sqlite3_exec(plain, right.c_str(), nullptr, nullptr, nullptr), SQLITE_OK);
  sqlite3_close(plain);
  std::vector<Entry> now = open().entries(piano_.id).value();
  ASSERT_THAT(now, SizeIs(journal.size() + 1));
  now.pop_back();
  EXPECT_EQ(now, journal);
}

TEST_F(StoreTest, AnEntryOfALaterVersionIsAClearError) {
  open_with_visit();
  sqlite3* plain = nullptr;
  ASSERT_EQ(sqlite3_open((folder_ / "pianos.store").c_str(), &plain), SQLITE_OK);
  const char* sql =
      "INSERT INTO entry (piano, seq, stamp, id, visit, at_ms, who, kind, subject, value, "
      "uncertainty, gauge, text) SELECT 1, 1, 1, randomblob(16), 1, 0, '', 'reading', "
      "'moon-phase', 1, 1, '', ''";
  ASSERT_EQ(sqlite3_exec(plain, sql, nullptr, nullptr, nullptr), SQLITE_OK);
  sqlite3_close(plain);
  const auto journal = open().entries(piano_.id);
  ASSERT_FALSE(journal);
  EXPECT_THAT(journal.error().happened, HasSubstr("moon-phase"));
  EXPECT_THAT(journal.error().todo, HasSubstr("Update"));
}

TEST_F(StoreTest, ASecondWriterWaitsForTheFirst) {
  open_with_visit();
  constexpr std::uint32_t each = 50;
  const auto write = [&](std::uint32_t first) {
    Store store = open();
    for (std::uint32_t n = first; n < first + each; ++n) {
      ASSERT_TRUE(store.append(piano_.id, std::vector{samples::reading(n, visit_)}));
    }
  };
  std::thread one(write, 1000);
  std::thread two(write, 2000);
  one.join();
  two.join();
  EXPECT_THAT(open().entries(piano_.id).value(), SizeIs(2 * each));
}

TEST_F(StoreTest, OneConnectionSeesWhatAnotherWrote) {
  Store one = open_with_visit();
  Store two = open();
  ASSERT_TRUE(two.append(piano_.id, std::vector{samples::reading(1, visit_)}));
  ASSERT_TRUE(one.append(piano_.id, std::vector{samples::reading(2, visit_)}));
  EXPECT_EQ(two.entries(piano_.id).value(), one.entries(piano_.id).value());
  EXPECT_THAT(one.entries(piano_.id).value(), SizeIs(2));
}

TEST_F(StoreTest, WhoWaitsTooLongIsTold) {
  open_with_visit();
  sqlite3* holder = nullptr;
  ASSERT_EQ(sqlite3_open((folder_ / "pianos.store").c_str(), &holder), SQLITE_OK);
  ASSERT_EQ(sqlite3_exec(holder, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr), SQLITE_OK);
  Store store =
      Store::open(folder_ / "pianos.store", {.busy_timeout = std::chrono::milliseconds(1)});
  try {
    (void)store.append(piano_.id, std::vector{samples::reading(1, visit_)});
    ADD_FAILURE() << "did not wait";
  } catch (const StoreFailure& failure) {
    EXPECT_EQ(failure.kind(), FailureKind::busy);
    EXPECT_THAT(failure.problem().todo, HasSubstr("try again"));
  }
  sqlite3_exec(holder, "ROLLBACK", nullptr, nullptr, nullptr);
  sqlite3_close(holder);
  EXPECT_TRUE(store.append(piano_.id, std::vector{samples::reading(1, visit_)}));
}

TEST_F(StoreTest, TwoProgramsMayMakeTheSameStoreAtOnce) {
  for (int round = 0; round < 20; ++round) {
    const auto file = folder_ / ("new" + std::to_string(round) + ".store");
    std::vector<std::thread> programs;
    for (std::uint32_t n = 1; n <= 4; ++n) {
      programs.emplace_back(
          [&, n] { EXPECT_TRUE(Store::open(file).add_piano(samples::piano(n))); });
    }
    for (std::thread& program : programs) program.join();
    EXPECT_THAT(Store::open(file).pianos(), SizeIs(4));
  }
}

TEST(Identity, IsRandomAndMarkedSo) {
  // RFC 9562, sections 4.1, 4.2 and 5.4: version 4, variant 10.
  const std::string one = to_text(make_uuid());
  EXPECT_EQ(one[14], '4');
  EXPECT_THAT(std::string("89ab"), HasSubstr(one.substr(19, 1)));
  EXPECT_NE(one, to_text(make_uuid()));
}

}  // namespace
}  // namespace batten

// Stores that earlier versions of the program wrote (data/old-records), opened by this one: every
// row as it was, every guard still there.
#include "records/migrations.hpp"
#include "records/opening.hpp"
#include "records/store.hpp"
#include "tests/records/cut_migration.hpp"
#include "tests/records/samples.hpp"

#include <gmock/gmock.h>
#include <limits>
#include <sqlite3.h>

namespace batten {
namespace {

namespace fs = std::filesystem;
using testing::IsEmpty;
using testing::SizeIs;

const fs::path old_file = fs::path(BATTEN_SOURCE_DIR) / "data/old-records/v1.store";
const fs::path second_file = fs::path(BATTEN_SOURCE_DIR) / "data/old-records/v2.store";
const fs::path third_file = fs::path(BATTEN_SOURCE_DIR) / "data/old-records/v3.store";

// What there is, as plain SQLite writes it: numbers to the last bit, blobs, NULLs.
struct Contents {
  int version = 0;
  std::vector<std::string> rows, guards;
  bool operator==(const Contents&) const = default;
};

Contents contents_of(const fs::path& file) {
  sqlite::Connection plain(file.string(), SQLITE_OPEN_READWRITE, "");
  Contents contents;
  contents.version = version_of(plain);
  for (const char* sql :
       {"SELECT number, quote(id), quote(name), quote(place), lowest_key, highest_key, added_ms "
        "FROM piano ORDER BY number",
        "SELECT number, quote(id), piano, begun_ms, quote(title) FROM visit ORDER BY number",
        "SELECT piano, seq, quote(id), visit, at_ms, quote(who), quote(kind), quote(subject), "
        "quote(note), quote(value), quote(uncertainty), quote(state), quote(gauge), quote(text), "
        "quote(target) FROM entry ORDER BY piano, seq"}) {
    for (std::string& row : plain.lines(sql)) contents.rows.push_back(std::move(row));
  }
  contents.guards = plain.lines(
      "SELECT type, name, tbl_name, quote(sql) FROM sqlite_master "
      "WHERE type IN ('trigger', 'index') AND tbl_name IN ('piano', 'visit', 'entry') "
      // Version 4 adds an index and a rule for stamps, and so says column by column what is never
      // changed: held to that below.
      "AND name NOT IN ('entry_by_stamp', 'entry_stamp_is_never_raised', 'entry_is_never_changed') "
      "ORDER BY name");
  return contents;
}

class OldStoreTest : public testing::Test {
 protected:
  void SetUp() override { fs::copy_file(old_file, file_); }
  // Whether plain SQLite refuses it as against a rule of the table.
  bool is_against_the_rules(const std::string& sql) {
    sqlite3* plain = nullptr;
    EXPECT_EQ(sqlite3_open(file_.c_str(), &plain), SQLITE_OK);
    const int answer = sqlite3_exec(plain, sql.c_str(), nullptr, nullptr, nullptr);
    sqlite3_close(plain);
    EXPECT_TRUE(answer == SQLITE_OK || answer == SQLITE_CONSTRAINT) << sql;
    return answer == SQLITE_CONSTRAINT;
  }

  samples::Folder folder_;
  const fs::path file_ = folder_ / "pianos.store";
};

TEST_F(OldStoreTest, EveryRowAndEveryGuardIsStillThere) {
  const Contents before = contents_of(file_);
  ASSERT_EQ(before.version, 1);
  ASSERT_THAT(before.rows, SizeIs(2 + 3 + 15));
  ASSERT_THAT(before.guards, SizeIs(5 + 6));  // triggers; indexes, those of UNIQUE included
  EXPECT_THAT(Store::open(file_).check(), IsEmpty());
  const Contents after = contents_of(file_);
  EXPECT_EQ(after.version, 4);
  EXPECT_EQ(after.rows, before.rows);
  EXPECT_EQ(after.guards, before.guards);
  EXPECT_EQ(contents_of(folder_ / "pianos.store.before-v4"), before);
}

TEST_F(OldStoreTest, OfTheSecondVersionIsBroughtForwardAndTakesDevices) {
  fs::remove(file_);
  fs::copy_file(second_file, file_);
  const Contents before = contents_of(file_);
  ASSERT_EQ(before.version, 2);
  ASSERT_THAT(before.rows, SizeIs(1 + 1 + 5));
  Store store = Store::open(file_);
  EXPECT_THAT(store.check(), IsEmpty());
  const Contents after = contents_of(file_);
  EXPECT_EQ(after.version, 4);
  EXPECT_EQ(after.rows, before.rows);
  EXPECT_EQ(after.guards, before.guards);
  EXPECT_EQ(contents_of(folder_ / "pianos.store.before-v4"), before);
  EXPECT_THAT(store.devices(), IsEmpty());
  EXPECT_TRUE(store.add_device({samples::identity(8, 1), "Tablet", {1}, 5, 5}));
  EXPECT_THAT(store.devices(), SizeIs(1));
}

TEST_F(OldStoreTest, OfTheThirdVersionIsBroughtForwardAndReadInTheOrderOfArrival) {
  fs::remove(file_);
  fs::copy_file(third_file, file_);
  const Contents before = contents_of(file_);
  ASSERT_EQ(before.version, 3);
  ASSERT_THAT(before.rows, SizeIs(2 + 3 + 10));
  Store store = Store::open(file_);
  EXPECT_THAT(store.check(), IsEmpty());
  const Contents after = contents_of(file_);
  EXPECT_EQ(after.version, 4);
  EXPECT_EQ(after.rows, before.rows);
  EXPECT_EQ(after.guards, before.guards);
  EXPECT_EQ(contents_of(folder_ / "pianos.store.before-v4"), before);
  EXPECT_THAT(store.devices(), SizeIs(1));
  for (const PianoSummary& one : store.pianos()) {
    const auto lines = store.journal(one.piano.id).value();
    ASSERT_THAT(lines, SizeIs(testing::Gt(0U)));
    for (std::size_t i = 0; i < lines.size(); ++i)
      EXPECT_EQ(lines[i].arrival, static_cast<std::int64_t>(i) + 1);
  }
  EXPECT_TRUE(store.set_shop("letterhead-name", "Ada"));
}

// The stamps that old entries get are those they would have been given (next_stamp), whatever the
// clocks said: also beyond the year 9999 and before 1970.
TEST_F(OldStoreTest, EntriesGetTheStampsTheyWouldHaveBeenGiven) {
  fs::remove(file_);
  const Visit visit = samples::visit();
  const std::vector<std::int64_t> clocks{500,  400,
                                         400,  1000,
                                         -7,   1001,
                                         1003, std::numeric_limits<std::int64_t>::min(),
                                         2000, std::numeric_limits<std::int64_t>::max(),
                                         3000};
  {
    const auto all = all_migrations();
    sqlite::Connection third = open_store(file_, {}, all.first(3));
    third.run_script(
        "INSERT INTO piano VALUES (1, x'0102030405060708090a0b0c0d0e0f10', 'P', '', 1, 88, 0);"
        "INSERT INTO visit VALUES (1, x'1102030405060708090a0b0c0d0e0f10', 1, 0, '');");
    for (std::size_t i = 0; i < clocks.size(); ++i)
      third.run(
          "INSERT INTO entry (piano, seq, id, visit, at_ms, who, kind, text) "
          "VALUES (1, ?, randomblob(16), 1, ?, '', 'remark', '')",
          static_cast<std::int64_t>(i) + 1, clocks[i]);
  }
  Store store = Store::open(file_);
  const auto lines = store.journal(store.find_piano("P")->id).value();
  ASSERT_THAT(lines, SizeIs(clocks.size()));
  std::int64_t last = 0;
  for (std::size_t i = 0; i < clocks.size(); ++i) {
    last = next_stamp(last, clocks[i]);
    EXPECT_EQ(lines[i].stamp, last) << i;
    EXPECT_EQ(lines[i].entry.at_ms, clocks[i]) << i;
  }
}

TEST_F(OldStoreTest, NoColumnOfAnEntryIsEverChangedAndItsStampNeverRaised) {
  Store::open(file_);
  for (const char* column : {"piano", "seq", "id", "visit", "at_ms", "who", "kind", "subject",
                             "note", "value", "uncertainty", "state", "gauge", "text", "target"})
    EXPECT_TRUE(is_against_the_rules(std::string("UPDATE entry SET ") + column + " = " + column +
                                     " WHERE piano = 1 AND seq = 1"))
        << column;
  EXPECT_TRUE(is_against_the_rules("UPDATE entry SET stamp = stamp + 1 WHERE seq = 1"));
  EXPECT_FALSE(is_against_the_rules("UPDATE entry SET stamp = stamp - 1 WHERE seq = 1"));
  EXPECT_TRUE(is_against_the_rules("UPDATE entry SET stamp = 0 WHERE seq = 1"));
}

TEST_F(OldStoreTest, IsReadAsItWasWritten) {
  Store store = Store::open(file_);
  const Piano piano = store.find_piano("Studio").value();
  EXPECT_EQ(piano.place, "Großer Saal");
  const std::vector<Entry> journal = store.entries(piano.id).value();
  ASSERT_THAT(journal, SizeIs(15));
  EXPECT_EQ(journal[2].content,
            EntryContent(ReadingTaken{Reading::string_height, Key{40}, 195.2, 0.1, "", "195,2"}));
  EXPECT_EQ(journal[6].content, EntryContent(MoveMade{Adjuster::capstan, Key{40}, 3.0 / 64, ""}));
  EXPECT_EQ(journal[8].content,
            EntryContent(PreparationNoted{PreparationItem::hammers_spaced, Key{34},
                                          PreparationState::waived, "shank bent"}));
  EXPECT_EQ(journal[13].content, EntryContent(Undo{journal[12].id}));
  EXPECT_EQ(journal[14].who, "Ada");
}

TEST_F(OldStoreTest, TakesSkipsAndMovesOfThePedals) {
  std::vector<Entry> journal;
  {
    Store store = Store::open(file_);
    const Piano piano = store.find_piano("Studio").value();
    journal = store.entries(piano.id).value();
    const Uuid visit = journal.back().visit;
    const std::vector<Entry> more{
        {samples::identity(6, 1), visit, 1, "", MoveSkipped{Adjuster::capstan, Key{40}, "worn"}},
        {samples::identity(6, 2), visit, 2, "", MoveSkipped{Adjuster::shift_stop, {}, "later"}},
        {samples::identity(6, 3), visit, 3, "", MoveMade{Adjuster::shift_stop, {}, 0.5, ""}}};
    ASSERT_TRUE(store.append(piano.id, more));
    journal.insert(journal.end(), more.begin(), more.end());
    EXPECT_EQ(store.entries(piano.id).value(), journal);
  }
  const auto next = [&](const std::string& columns, const std::string& values) {
    return "INSERT INTO entry (piano, seq, stamp, id, visit, at_ms, who, kind, " + columns +
           ") SELECT piano, max(seq) + 1, max(stamp) + 1, randomblob(16), visit, 0, '', " + values +
           " FROM entry WHERE piano = 1";
  };
  // Each row differs from a good one by one thing.
  EXPECT_TRUE(is_against_the_rules(next("subject, note, text", "'skip', 'capstan', 40, ''")));
  EXPECT_TRUE(is_against_the_rules(next("subject, note", "'skip', 'capstan', 40")));
  EXPECT_TRUE(is_against_the_rules(next("note, text", "'skip', 40, 'worn'")));
  EXPECT_TRUE(
      is_against_the_rules(next("subject, note, text, value", "'skip', 'capstan', 40, 'worn', 1")));
  EXPECT_FALSE(is_against_the_rules(next("subject, note, text", "'skip', 'capstan', 40, 'worn'")));
  EXPECT_FALSE(is_against_the_rules(next("subject, text", "'skip', 'capstan', 'no time'")));
  EXPECT_TRUE(is_against_the_rules(next("subject, value, text", "'move', 'capstan', 1, ''")));
  EXPECT_FALSE(is_against_the_rules(next("subject, value, text", "'move', 'shift-stop', 1, ''")));
  EXPECT_TRUE(is_against_the_rules("UPDATE entry SET who = who"));
  EXPECT_TRUE(is_against_the_rules("DELETE FROM entry WHERE seq = 1"));
}

// Every adjuster of the piano may be moved without a note, and no other: the table's own rule says
// the same as the catalogue.
TEST_F(OldStoreTest, TheTableKnowsThePianosAdjusters) {
  Store::open(file_);
  for (const AdjusterKind& kind : adjuster_kinds()) {
    EXPECT_EQ(
        is_against_the_rules(
            "INSERT INTO entry (piano, seq, stamp, id, visit, at_ms, who, kind, subject, value, "
            "text) SELECT piano, max(seq) + 1, max(stamp) + 1, randomblob(16), visit, 0, '', "
            "'move', '" +
            std::string(kind.code) + "', 1, '' FROM entry WHERE piano = 1"),
        kind.scope == Scope::per_note)
        << kind.code;
  }
}

TEST_F(OldStoreTest, APowerCutLeavesTheOldStoreOrTheNewOne) {
  const std::string bytes = samples::bytes_of(file_);
  Uuid piano;
  std::vector<Entry> journal;
  {
    Store store = Store::open(file_);
    piano = store.find_piano("Studio")->id;
    journal = store.entries(piano).value();
  }
  const auto all = all_migrations();
  tests::cut_migration_everywhere({{"/pianos.store", bytes}}, {all.begin(), all.end()}, 1, piano,
                                  journal);
}

}  // namespace
}  // namespace batten

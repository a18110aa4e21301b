#include "records/migrations.hpp"

#include "records/opening.hpp"
#include "records/store.hpp"
#include "tests/records/cut_migration.hpp"
#include "tests/records/failures.hpp"
#include "tests/records/power_cut_disk.hpp"
#include "tests/records/samples.hpp"

#include <gmock/gmock.h>
#include <sqlite3.h>

namespace batten {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::IsEmpty;
using tests::failure_of;
using tests::kind_of_failure;

int next_version() { return all_migrations().back().version + 1; }

// This version's steps and one more, as a later version of the program might have it.
std::vector<Migration> steps_and(const std::string& sql) {
  const auto all = all_migrations();
  std::vector<Migration> steps(all.begin(), all.end());
  steps.push_back({next_version(), "next", sql});
  return steps;
}

// A table rebuilt, as SQLite advises for changes ALTER TABLE cannot make
// (sqlite.org/lang_altertable.html, section 7).
const char* const rebuild_visits =
    "CREATE TABLE new_visit (number INTEGER PRIMARY KEY, id BLOB NOT NULL UNIQUE, piano INTEGER "
    "NOT "
    "NULL REFERENCES piano (number), begun_ms INTEGER NOT NULL, title TEXT NOT NULL, weather TEXT "
    "NOT "
    "NULL DEFAULT '', UNIQUE (piano, number)) STRICT;"
    "INSERT INTO new_visit SELECT number, id, piano, begun_ms, title, 'fair' FROM visit;"
    "DROP TABLE visit; ALTER TABLE new_visit RENAME TO visit;";

class MigrationsTest : public testing::Test {
 protected:
  void SetUp() override {
    Store store = Store::open(file_);
    ASSERT_TRUE(store.add_piano(piano_));
    ASSERT_TRUE(store.add_visit(piano_.id, visit_));
    ASSERT_TRUE(store.append(piano_.id, journal_));
  }
  void migrate_with(const std::string& sql) { open_store(file_, {}, steps_and(sql)); }
  // As this version sees it.
  std::vector<Entry> journal_in(const fs::path& file) {
    Store store = Store::open(file);
    EXPECT_THAT(store.check(), IsEmpty());
    return store.entries(piano_.id).value();
  }
  void expect_failed_and_kept(const std::string& sql) {
    const auto failure = failure_of([&] { migrate_with(sql); });
    ASSERT_TRUE(failure) << sql;
    EXPECT_EQ(failure->kind(), FailureKind::migration_failed) << failure->detail();
    EXPECT_THAT(failure->problem().kept, HasSubstr("as it was"));
    EXPECT_EQ(journal_in(file_), journal_) << sql;
    EXPECT_EQ(journal_in(copy_), journal_) << sql;
    fs::remove(copy_);
  }

  samples::Folder folder_;
  const fs::path file_ = folder_ / "pianos.store";
  const fs::path copy_ = folder_ / ("pianos.store.before-v" + std::to_string(next_version()));
  const Piano piano_ = samples::piano();
  const Visit visit_ = samples::visit();
  const std::vector<Entry> journal_ = samples::every_kind(visit_);
};

TEST_F(MigrationsTest, AreNumberedFromOneWithoutGaps) {
  int expected = 1;
  for (const Migration& step : all_migrations()) EXPECT_EQ(step.version, expected++);
}

TEST_F(MigrationsTest, ANewStoreNeedsNoCopy) {
  for (int version = 0; version <= next_version(); ++version) {
    EXPECT_FALSE(fs::exists(folder_ / ("pianos.store.before-v" + std::to_string(version))));
  }
}

TEST_F(MigrationsTest, BringAnOlderStoreForwardAfterCopyingIt) {
  migrate_with(rebuild_visits);
  EXPECT_EQ(journal_in(copy_), journal_);
  sqlite::Connection later = open_store(file_, {}, steps_and(rebuild_visits));
  EXPECT_EQ(version_of(later), next_version());
  EXPECT_EQ(later.number("SELECT count(*) FROM visit WHERE weather = 'fair'"), 1);
  EXPECT_EQ(later.number("SELECT count(*) FROM entry"), static_cast<std::int64_t>(journal_.size()));
  EXPECT_EQ(later.number("PRAGMA foreign_keys"), 1);
  // This version now finds it too new, and says so.
  EXPECT_EQ(kind_of_failure([&] { Store::open(file_); }), FailureKind::newer_version);
}

TEST_F(MigrationsTest, NeverOverwriteAnEarlierCopy) {
  samples::write_bytes(copy_, "kept by hand");
  migrate_with(rebuild_visits);
  EXPECT_EQ(samples::bytes_of(copy_), "kept by hand");
  EXPECT_EQ(journal_in(copy_.string() + ".2"), journal_);
}

TEST_F(MigrationsTest, ThatFailLeaveTheStoreAsItWasAndTheCopy) {
  expect_failed_and_kept(
      "ALTER TABLE piano ADD COLUMN colour TEXT; SELECT no_such_column FROM piano;");
  expect_failed_and_kept("INSERT INTO visit SELECT * FROM visit;");
  expect_failed_and_kept("this is not SQL");
}

TEST_F(MigrationsTest, ThatBreakAReferenceAreRolledBack) {
  // foreign_key_check answers in rows: a migration that does not read them would let this pass.
  expect_failed_and_kept("UPDATE visit SET piano = 77;");
}

TEST_F(MigrationsTest, ThatEndTheTransactionAreCaught) {
  const auto failure = failure_of([&] { migrate_with("CREATE TABLE more (x) STRICT; COMMIT;"); });
  ASSERT_TRUE(failure);
  EXPECT_EQ(failure->kind(), FailureKind::migration_failed);
}

TEST_F(MigrationsTest, RunOnceWhenTwoProgramsOpenAtOnce) {
  sqlite::Connection one = open_store(file_, {}, all_migrations());
  migrate_with(rebuild_visits);
  EXPECT_NO_THROW(migrate(one, file_, "", steps_and(rebuild_visits)));
  EXPECT_EQ(version_of(one), next_version());
}

TEST(MigrationPowerCut, LeavesTheOldStoreOrTheNewOne) {
  const Piano piano = samples::piano();
  const std::vector<Entry> journal = samples::every_kind(samples::visit());
  std::map<std::string, std::string> old;
  {
    tests::PowerCutDisk disk;
    OpenOptions options;
    options.vfs = disk.vfs_name();
    Store store = Store::open("/pianos.store", options);
    ASSERT_TRUE(store.add_piano(piano));
    ASSERT_TRUE(store.add_visit(piano.id, samples::visit()));
    ASSERT_TRUE(store.append(piano.id, journal));
    { const Store closing = std::move(store); }
    old = disk.contents();
  }
  tests::cut_migration_everywhere(old, steps_and(rebuild_visits), next_version() - 1, piano.id,
                                  journal);
}

TEST(Statements, MoreThanOneAtATimeAreRefused) {
  sqlite::Connection memory(":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_MEMORY, "");
  memory.run("CREATE TABLE t (x); -- a comment after it is none\n  ");
  EXPECT_EQ(kind_of_failure([&] { memory.run("INSERT INTO t VALUES (1); DROP TABLE t"); }),
            FailureKind::refused);
  EXPECT_EQ(kind_of_failure([&] { memory.run("DELETE FROM t; nonsense"); }), FailureKind::refused);
  EXPECT_EQ(kind_of_failure([&] { memory.run("  "); }), FailureKind::refused);
  EXPECT_EQ(memory.number("SELECT count(*) FROM t"), 0);
}

// A rollback by a failed commit must not reach a later unit of work.
TEST(Transactions, RollBackOnlyWhatIsTheirs) {
  sqlite::Connection memory(":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_MEMORY, "");
  memory.run("PRAGMA foreign_keys = ON");
  memory.run_script(
      "CREATE TABLE p (n INTEGER PRIMARY KEY); CREATE TABLE c (n REFERENCES p (n) DEFERRABLE "
      "INITIALLY DEFERRED);");
  {
    sqlite::Transaction transaction(memory);
    memory.run("INSERT INTO c VALUES (5)");
    EXPECT_EQ(kind_of_failure([&] { transaction.commit(); }), FailureKind::refused);
  }
  EXPECT_FALSE(memory.in_transaction());
  {
    sqlite::Transaction transaction(memory);
    memory.run("INSERT INTO p VALUES (5)");
    transaction.commit();
    memory.run("BEGIN");
    memory.run("INSERT INTO p VALUES (6)");
  }
  EXPECT_TRUE(memory.in_transaction());
  memory.run("COMMIT");
  EXPECT_EQ(memory.number("SELECT count(*) FROM p"), 2);
  EXPECT_EQ(memory.number("SELECT count(*) FROM c"), 0);
}

}  // namespace
}  // namespace batten

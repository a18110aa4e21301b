// Files that are not what they should be, and places that do not let us work: a clear failure, and
// the folder as it was.
#include "records/opening.hpp"

#include "records/store.hpp"
#include "tests/records/failures.hpp"
#include "tests/records/power_cut_disk.hpp"
#include "tests/records/samples.hpp"

#include <cctype>
#include <cstdio>
#include <gmock/gmock.h>
#include <limits>
#include <map>
#include <sqlite3.h>
#include <sstream>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

namespace batten {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using tests::failure_of;
using tests::kind_of_failure;

// Everything in a folder, by name.
std::map<std::string, std::string> contents_of(const fs::path& folder) {
  std::map<std::string, std::string> all;
  for (const auto& entry : fs::directory_iterator(folder)) {
    all[entry.path().filename()] = samples::bytes_of(entry.path());
  }
  return all;
}

void run_plain(const fs::path& file, const std::string& sql) {
  sqlite3* plain = nullptr;
  ASSERT_EQ(sqlite3_open(file.c_str(), &plain), SQLITE_OK);
  ASSERT_EQ(sqlite3_exec(plain, sql.c_str(), nullptr, nullptr, nullptr), SQLITE_OK)
      << sqlite3_errmsg(plain);
  sqlite3_close(plain);
}

class OpeningTest : public testing::Test {
 protected:
  // A store with a journal long enough for a tree of pages.
  void make_store() {
    Store store = Store::open(file_);
    ASSERT_TRUE(store.add_piano(piano_));
    ASSERT_TRUE(store.add_visit(piano_.id, visit_));
    for (std::uint32_t n = 1; n <= 300; ++n) journal_.push_back(samples::reading(n, visit_));
    ASSERT_TRUE(store.append(piano_.id, journal_));
  }
  // Opening fails so and changes nothing.
  void expect_refused(FailureKind kind) {
    const auto before = contents_of(folder_.path());
    const auto failure = failure_of([&] { Store::open(file_); });
    ASSERT_TRUE(failure) << "opened, " << before.begin()->second.size() << " bytes";
    EXPECT_EQ(failure->kind(), kind) << failure->what() << failure->detail();
    EXPECT_THAT(failure->problem().happened, Not(IsEmpty()));
    EXPECT_THAT(failure->problem().todo, Not(IsEmpty()));
    EXPECT_EQ(contents_of(folder_.path()), before);
  }

  samples::Folder folder_;
  const fs::path file_ = folder_ / "pianos.store";
  const Piano piano_ = samples::piano();
  const Visit visit_ = samples::visit();
  std::vector<Entry> journal_;
};

TEST_F(OpeningTest, MarksItsFilesAndSetsItsGuards) {
  make_store();
  // sqlite.org/fileformat2.html, table 1: application id at 68, version at 60, format 2 (log)
  // at 18.
  const std::string bytes = samples::bytes_of(file_);
  EXPECT_EQ(bytes.substr(68, 4), "Bttn");
  EXPECT_EQ(bytes.substr(60, 4),
            std::string("\0\0\0", 3) + static_cast<char>(all_migrations().back().version));
  EXPECT_EQ(bytes.substr(18, 2), "\2\2");
  sqlite::Connection connection = open_store(file_, {}, all_migrations());
  // sqlite.org/pragma.html: 2 is FULL.
  EXPECT_EQ(connection.number("PRAGMA synchronous"), 2);
  EXPECT_EQ(connection.number("PRAGMA foreign_keys"), 1);
  EXPECT_EQ(connection.number("PRAGMA trusted_schema"), 0);
  EXPECT_EQ(connection.number("SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND sql "
                              "NOT LIKE '%STRICT%'"),
            0);
}

TEST_F(OpeningTest, EveryColumnSaysItsUnit) {
  for (const Migration& migration : all_migrations()) {
    std::istringstream lines(migration.sql);
    bool in_table = false;
    for (std::string line; std::getline(lines, line);) {
      if (line.starts_with("CREATE TABLE")) in_table = true;
      if (line.starts_with(")")) in_table = false;
      const bool column = in_table && line.starts_with("  ") && std::islower(line[2]) != 0;
      if (!column) continue;
      EXPECT_THAT(line, HasSubstr("unit: ")) << migration.name;
    }
  }
}

TEST_F(OpeningTest, NoStoreAndNoneToBeMade) {
  EXPECT_EQ(kind_of_failure([&] { Store::open(file_, {.create = false}); }), FailureKind::missing);
  EXPECT_THAT(contents_of(folder_.path()), IsEmpty());
}

TEST_F(OpeningTest, NoFolder) {
  const fs::path inside = folder_ / "none" / "pianos.store";
  const auto failure = failure_of([&] { Store::open(inside); });
  ASSERT_TRUE(failure);
  EXPECT_EQ(failure->kind(), FailureKind::missing);
  EXPECT_THAT(failure->problem().happened, HasSubstr("none"));
  EXPECT_THAT(contents_of(folder_.path()), IsEmpty());
}

TEST_F(OpeningTest, AFolderInItsPlace) {
  fs::create_directory(file_);
  EXPECT_EQ(kind_of_failure([&] { Store::open(file_); }), FailureKind::not_a_store);
}

TEST_F(OpeningTest, FilesOfOtherKinds) {
  for (const std::string& bytes :
       {std::string("note,reading\nA0,3\n"), std::string("no"), std::string(100000, '\0'),
        "SQLite format 3" + std::string(1, '\0')}) {
    samples::write_bytes(file_, bytes);
    expect_refused(FailureKind::not_a_store);
  }
}

TEST_F(OpeningTest, DatabasesOfOtherPrograms) {
  run_plain(file_, "CREATE TABLE t (x); INSERT INTO t VALUES (1)");
  expect_refused(FailureKind::not_a_store);
  run_plain(file_, "PRAGMA journal_mode = WAL");
  expect_refused(FailureKind::not_a_store);
  run_plain(file_, "PRAGMA application_id = 7");
  expect_refused(FailureKind::not_a_store);
}

TEST_F(OpeningTest, AStoreOfALaterVersion) {
  make_store();
  run_plain(file_, "PRAGMA user_version = 1000");
  expect_refused(FailureKind::newer_version);
}

TEST_F(OpeningTest, AStoreOfALaterVersionLeftByACrash) {
  make_store();
  const fs::path log = file_.string() + "-wal";
  std::string main_bytes;
  std::string log_bytes;
  {
    sqlite3* later = nullptr;
    ASSERT_EQ(sqlite3_open(file_.c_str(), &later), SQLITE_OK);
    ASSERT_EQ(sqlite3_exec(later, "PRAGMA user_version = 1000", nullptr, nullptr, nullptr),
              SQLITE_OK);
    main_bytes = samples::bytes_of(file_);
    log_bytes = samples::bytes_of(log);
    sqlite3_close(later);
  }
  samples::write_bytes(file_, main_bytes);
  samples::write_bytes(log, log_bytes);
  ASSERT_THAT(log_bytes, Not(IsEmpty()));
  EXPECT_EQ(kind_of_failure([&] { Store::open(file_); }), FailureKind::newer_version);
  EXPECT_EQ(samples::bytes_of(file_), main_bytes);
  EXPECT_EQ(samples::bytes_of(log), log_bytes);
}

TEST_F(OpeningTest, ATruncatedFile) {
  make_store();
  const std::string whole = samples::bytes_of(file_);
  for (const std::size_t size : {whole.size() - 1, whole.size() - 4096, whole.size() / 2,
                                 std::size_t{4096}, std::size_t{512}}) {
    samples::write_bytes(file_, whole.substr(0, size));
    expect_refused(FailureKind::damaged);
  }
  samples::write_bytes(file_, whole.substr(0, 99));
  expect_refused(FailureKind::not_a_store);
}

// Each byte of the header wrong in two ways: refused, or harmless with every entry there. Never a
// crash, and never a change to a file that was refused.
TEST_F(OpeningTest, DamagedHeaders) {
  make_store();
  const std::string whole = samples::bytes_of(file_);
  int refused = 0;
  for (std::size_t place = 0; place < 100; ++place) {
    for (const int flip : {0x01, 0xff}) {
      std::string bytes = whole;
      bytes[place] = static_cast<char>(bytes[place] ^ flip);
      samples::write_bytes(file_, bytes);
      const auto failure = failure_of([&] {
        Store store = Store::open(file_);
        ASSERT_EQ(store.entries(piano_.id).value(), journal_) << place;
      });
      if (!failure) continue;
      ++refused;
      // A version word (bytes 60 to 63) that says an earlier version: the step from there finds its
      // work done, gives up, and leaves the copy it made first.
      if (failure->kind() == FailureKind::migration_failed && place >= 60 && place < 64) {
        const auto copy =
            file_.string() + ".before-v" + std::to_string(all_migrations().back().version);
        EXPECT_EQ(samples::bytes_of(copy).size(), bytes.size()) << place;
        std::filesystem::remove(copy);
        continue;
      }
      EXPECT_TRUE(failure->kind() == FailureKind::damaged ||
                  failure->kind() == FailureKind::not_a_store ||
                  failure->kind() == FailureKind::newer_version)
          << place << ": " << failure->what() << failure->detail();
      EXPECT_EQ(contents_of(folder_.path()).size(), 1U) << place;
      EXPECT_EQ(samples::bytes_of(file_), bytes) << place;
    }
  }
  // At least the magic, the page size, the formats, the fractions, both version words' high bytes.
  EXPECT_GE(refused, 2 * (16 + 2 + 2 + 3 + 4));
}

// The first bytes of every page, where its tree hangs together: seen when opening, when reading, or
// by the check.
TEST_F(OpeningTest, DamagedPages) {
  make_store();
  const std::string whole = samples::bytes_of(file_);
  for (std::size_t page = 0; page < whole.size() / 4096; ++page) {
    std::string bytes = whole;
    const std::size_t start = page * 4096 + (page == 0 ? 100 : 0);
    for (std::size_t i = 0; i < 8; ++i)
      bytes[start + i] = static_cast<char>(bytes[start + i] ^ 0x5a);
    samples::write_bytes(file_, bytes);
    std::vector<std::string> found;
    const auto failure = failure_of([&] {
      Store store = Store::open(file_);
      found = store.check();
      (void)store.entries(piano_.id);
    });
    EXPECT_TRUE(failure || !found.empty()) << "page " << page + 1;
    if (failure) {
      EXPECT_EQ(failure->kind(), FailureKind::damaged) << failure->detail();
    }
    EXPECT_EQ(samples::bytes_of(file_), bytes) << "page " << page + 1;
  }
}

// As another user, because the tests may run as one whom no permission stops.
std::optional<FailureKind> kind_as_nobody(const fs::path& file) {
  std::fflush(nullptr);
  const pid_t child = fork();
  if (child == 0) {
    if (geteuid() == 0 && setuid(65534) != 0) _exit(99);
    const auto kind = kind_of_failure([&] { Store::open(file); });
    _exit(kind ? static_cast<int>(*kind) : 98);
  }
  int status = 0;
  waitpid(child, &status, 0);
  if (!WIFEXITED(status) || WEXITSTATUS(status) >= 98) return std::nullopt;
  return static_cast<FailureKind>(WEXITSTATUS(status));
}

TEST_F(OpeningTest, AReadOnlyFolder) {
  make_store();
  const auto before = contents_of(folder_.path());
  ASSERT_EQ(chmod(file_.c_str(), 0444), 0);
  ASSERT_EQ(chmod(folder_.path().c_str(), 0555), 0);
  EXPECT_EQ(kind_as_nobody(file_), FailureKind::read_only);
  EXPECT_EQ(kind_as_nobody(folder_ / "new.store"), FailureKind::read_only);
  ASSERT_EQ(chmod(file_.c_str(), 0666), 0);  // the file alone is not enough: the log lies beside it
  EXPECT_EQ(kind_as_nobody(file_), FailureKind::read_only);
  ASSERT_EQ(chmod(folder_.path().c_str(), 0777), 0);
  ASSERT_EQ(chmod(file_.c_str(), 0444), 0);
  EXPECT_EQ(kind_as_nobody(file_), FailureKind::read_only);
  EXPECT_EQ(contents_of(folder_.path()), before);
  ASSERT_EQ(chmod(file_.c_str(), 0666), 0);
  EXPECT_EQ(kind_as_nobody(file_), std::nullopt);  // and with both it opens
}

// With less and less room: a clear failure, what was acknowledged stays, and with room again the
// same entries can be sent again.
TEST(FullDisk, KeepsWhatWasAcknowledged) {
  const Piano piano = samples::piano();
  const Visit visit = samples::visit();
  int full_when_opening = 0;
  int full_later = 0;
  for (std::size_t room = 0; room < 400'000; room += 5'000) {
    tests::PowerCutDisk disk;
    disk.limit_space(room);
    OpenOptions options;
    options.vfs = disk.vfs_name();
    options.checkpoint_pages = 8;
    std::vector<Entry> acknowledged;
    const auto failure = failure_of([&] {
      Store store = Store::open("/pianos.store", options);
      ASSERT_TRUE(store.add_piano(piano));
      ASSERT_TRUE(store.add_visit(piano.id, visit));
      for (std::uint32_t n = 1; n <= 100; ++n) {
        const std::vector<Entry> some(1, {samples::identity(6, n), visit.id, n, "",
                                          Remark{std::nullopt, std::string(3000, 'x')}});
        const auto full = failure_of([&] { ASSERT_TRUE(store.append(piano.id, some)); });
        if (full) {
          // The store that met the full disk can still be read.
          EXPECT_EQ(store.entries(piano.id).value(), acknowledged);
          throw StoreFailure(*full);
        }
        acknowledged.push_back(some.front());
      }
    });
    if (failure) {
      EXPECT_EQ(failure->kind(), FailureKind::disk_full) << room << failure->detail();
      ++(acknowledged.empty() ? full_when_opening : full_later);
    }
    disk.limit_space(std::numeric_limits<std::size_t>::max());
    Store store = Store::open("/pianos.store", options);
    EXPECT_THAT(store.check(), IsEmpty());
    ASSERT_TRUE(store.add_piano(piano));
    ASSERT_TRUE(store.add_visit(piano.id, visit));
    EXPECT_EQ(store.entries(piano.id).value(), acknowledged) << room;
    EXPECT_TRUE(store.append(piano.id, acknowledged));
  }
  EXPECT_GT(full_when_opening, 3);
  EXPECT_GT(full_later, 10);
}

TEST(FullDisk, NotOneByteLeftChangesNothing) {
  tests::PowerCutDisk disk;
  OpenOptions options;
  options.vfs = disk.vfs_name();
  Store::open("/pianos.store", options);
  const auto before = disk.contents();
  disk.limit_space(disk.used_space());  // not one byte more
  EXPECT_EQ(kind_of_failure([&] {
              Store store = Store::open("/pianos.store", options);
              (void)store.add_piano(samples::piano());
            }),
            FailureKind::disk_full);
  EXPECT_EQ(disk.contents(), before);
}

}  // namespace
}  // namespace batten

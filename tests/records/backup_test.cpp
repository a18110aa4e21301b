// Backups: whole or not there, never fewer good ones than before, and back to one without losing
// the store there was.
#include "records/backup.hpp"

#include "records/sqlite/connection.hpp"
#include "tests/records/failures.hpp"
#include "tests/records/samples.hpp"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <ctime>
#include <fcntl.h>
#include <gmock/gmock.h>
#include <random>
#include <set>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace batten {
namespace {

namespace fs = std::filesystem;
using testing::IsEmpty;
using testing::SizeIs;
using tests::failure_of;
using tests::kind_of_failure;

constexpr std::int64_t day = 86'400'000;
// 2026-11-26 06:30 UTC, a Thursday.
constexpr std::int64_t now = 1'795'674'600'000;

class BackupTest : public testing::Test {
 protected:
  Store open() { return Store::open(file_); }
  // A store with one piano and so many readings more.
  void fill(std::uint32_t from, std::uint32_t count) {
    Store store = open();
    ASSERT_TRUE(store.add_piano(piano_));
    ASSERT_TRUE(store.add_visit(piano_.id, visit_));
    std::vector<Entry> more;
    for (std::uint32_t n = from; n < from + count; ++n) more.push_back(samples::reading(n, visit_));
    ASSERT_TRUE(store.append(piano_.id, more));
  }
  std::size_t count_in(const fs::path& file) {
    Store store = Store::open(file);
    EXPECT_THAT(store.check(), IsEmpty());
    return store.entries(piano_.id).value().size();
  }
  BackupFile make(std::int64_t at = now) {
    Store store = open();
    return make_backup(store, backups_, at, {});
  }
  std::vector<std::string> names_in(const fs::path& folder) {
    std::vector<std::string> names;
    for (const auto& one : fs::directory_iterator(folder))
      names.push_back(one.path().filename().string());
    return names;
  }

  samples::Folder folder_;
  const fs::path file_ = folder_ / "pianos.store";
  const fs::path backups_ = folder_ / "backups";
  const Piano piano_ = samples::piano();
  const Visit visit_ = samples::visit();
};

TEST_F(BackupTest, HoldsWhatTheStoreHeldAndIsOneFile) {
  fill(1, 5);
  const BackupFile made = make();
  EXPECT_EQ(made.made_ms, now);
  EXPECT_EQ(made.bytes, fs::file_size(made.file));
  EXPECT_THAT(made.file.filename().string(),
              testing::MatchesRegex("pianos\\.store\\.[0-9a-f]{8}\\.20261126T063000Z\\.backup"));
  fill(6, 1);
  EXPECT_THAT(names_in(backups_), SizeIs(1));
  EXPECT_EQ(list_backups(backups_, file_), std::vector{made});
  fs::copy_file(made.file, folder_ / "copy.store");
  EXPECT_EQ(count_in(folder_ / "copy.store"), 5U);
}

TEST_F(BackupTest, IsMadeWhileOthersWriteAndHoldsWhatWasAcknowledgedBefore) {
  fill(1, 20);
  Store writer = open();
  const BackupFile made = make();
  ASSERT_TRUE(writer.append(piano_.id, std::vector{samples::reading(99, visit_)}));
  fs::copy_file(made.file, folder_ / "copy.store");
  EXPECT_EQ(count_in(folder_ / "copy.store"), 20U);
}

TEST_F(BackupTest, OfTheSameSecondHaveNamesOfTheirOwn) {
  fill(1, 1);
  const BackupFile first = make(), second = make();
  EXPECT_NE(first.file, second.file);
  EXPECT_THAT(list_backups(backups_, file_), SizeIs(2));
}

TEST_F(BackupTest, OfAnotherStoreInTheSameFolderAreLeftAlone) {
  fill(1, 1);
  make();
  fs::create_directory(folder_ / "other");
  {
    Store other = Store::open(folder_ / "other" / "pianos.store");
    for (int i = 0; i < 30; ++i) make_backup(other, backups_, now + i * day, {1, 0, 0});
  }
  EXPECT_THAT(list_backups(backups_, file_), SizeIs(1));
}

TEST_F(BackupTest, ADamagedStoreReplacesNoGoodBackup) {
  fill(1, 2000);
  Store store = open();
  const BackupFile good = make_backup(store, backups_, now, {1, 0, 0});
  // In the middle of the file, as a failing disk would.
  { const Store closing = std::move(store); }
  std::string bytes = samples::bytes_of(file_);
  std::fill(bytes.begin() + 40'000, bytes.begin() + 60'000, '\x5a');
  samples::write_bytes(file_, bytes);
  const auto failure = failure_of([&] {
    Store broken = open();
    for (int i = 1; i < 6; ++i) make_backup(broken, backups_, now + i * day, {1, 0, 0});
  });
  ASSERT_TRUE(failure);
  EXPECT_EQ(failure->kind(), FailureKind::damaged);
  EXPECT_EQ(list_backups(backups_, file_), std::vector{good});
  EXPECT_THAT(names_in(backups_), SizeIs(1));
}

TEST_F(BackupTest, AFolderThatMayNotBeWrittenIsAClearFailureAndNothingIsLost) {
  fill(1, 3);
  samples::write_bytes(backups_, "a file where the folder should be");
  Store store = open();
  EXPECT_ANY_THROW(make_backup(store, backups_, now, {}));
  EXPECT_EQ(store.entries(piano_.id)->size(), 3U);
  EXPECT_EQ(samples::bytes_of(backups_), "a file where the folder should be");
}

// A disk without room, as the system's limit on a file's size plays it.
TEST_F(BackupTest, AFullDiskLeavesTheBackupsThereWere) {
  fill(1, 1);
  const BackupFile good = make();
  fill(2, 3000);
  const pid_t child = fork();
  if (child == 0) {
    signal(SIGXFSZ, SIG_IGN);
    const rlimit small{100'000, 100'000};
    setrlimit(RLIMIT_FSIZE, &small);
    const auto failure = failure_of([&] { make(now + day); });
    _exit(failure ? 0 : 1);
  }
  int status = 0;
  waitpid(child, &status, 0);
  EXPECT_EQ(status, 0);
  EXPECT_EQ(list_backups(backups_, file_), std::vector{good});
  EXPECT_THAT(names_in(backups_), SizeIs(1));
  EXPECT_EQ(count_in(file_), 3001U);
}

TEST_F(BackupTest, TwoProgramsDoNotMakeOneAtOnceAndWhatAKilledOneLeftIsCleared) {
  fill(1, 1);
  const BackupFile first = make();
  samples::write_bytes(first.file.string() + ".part4711", "half");
  samples::write_bytes(backups_ / "kept by hand.part", "not ours");
  const int other = ::open(backups_.c_str(), O_RDONLY | O_DIRECTORY);
  ASSERT_EQ(flock(other, LOCK_EX), 0);
  Store store = open();
  EXPECT_EQ(kind_of_failure([&] {
              make_backup(store, backups_, now + day, {}, std::chrono::milliseconds(50));
            }),
            FailureKind::busy);
  EXPECT_TRUE(fs::exists(first.file.string() + ".part4711"));
  close(other);
  make_backup(store, backups_, now + day, {});
  EXPECT_FALSE(fs::exists(first.file.string() + ".part4711"));
  EXPECT_TRUE(fs::exists(backups_ / "kept by hand.part"));
}

// By the definition, day by day through two years with gaps: the last of each of the last 7 days,
// 4 weeks and 12 months that have one, weeks by ISO 8601 and months by the calendar, and the last
// three.
TEST(BackupRotation, KeepsWhatItsDefinitionKeeps) {
  std::mt19937 random(7);
  std::vector<BackupFile> all;  // newest first
  for (int d = 0; d < 730; ++d) {
    if (random() % 5 == 0) continue;
    for (auto n = random() % 3; n < 3; ++n) {
      const std::int64_t at = now + d * day + static_cast<std::int64_t>(n) * 3'600'000;
      all.insert(all.begin(), {std::to_string(at), at, 1});
    }
    const auto spans = [&](const char* format, std::size_t most) {
      std::vector<std::string> kept_spans;
      std::vector<std::int64_t> kept;
      for (const BackupFile& one : all) {
        const std::time_t seconds = one.made_ms / 1000;
        std::tm utc{};
        gmtime_r(&seconds, &utc);
        char text[32];
        std::strftime(text, sizeof text, format, &utc);
        if (std::ranges::find(kept_spans, text) != kept_spans.end()) continue;
        if (kept_spans.size() == most) break;
        kept_spans.emplace_back(text);
        kept.push_back(one.made_ms);
      }
      return kept;
    };
    std::set<std::int64_t> wanted;
    for (const auto& kept : {spans("%F", 7), spans("%G-%V", 4), spans("%Y-%m", 12)})
      wanted.insert(kept.begin(), kept.end());
    for (std::size_t i = 0; i < std::min<std::size_t>(3, all.size()); ++i)
      wanted.insert(all[i].made_ms);
    for (const BackupFile& gone : backups_to_drop(all, {})) std::erase(all, gone);
    std::set<std::int64_t> there;
    for (const BackupFile& one : all) there.insert(one.made_ms);
    ASSERT_EQ(there, wanted) << "day " << d;
  }
  EXPECT_LE(all.size(), 7U + 4 + 12 + 3);
}

TEST_F(BackupTest, IsRestoredAndTheStoreThereWasIsKept) {
  fill(1, 5);
  const BackupFile made = make();
  fill(6, 7);
  const Restored restored = restore_backup(file_, made.file, now);
  ASSERT_TRUE(restored.kept);
  EXPECT_EQ(restored.kept->filename(), "pianos.store.before-restore-20261126T063000Z");
  EXPECT_EQ(count_in(file_), 5U);
  EXPECT_EQ(count_in(*restored.kept), 12U);
  EXPECT_THAT(list_backups(backups_, file_), SizeIs(1));
  // Once more: under another name.
  const Restored again = restore_backup(file_, made.file, now);
  EXPECT_NE(again.kept, restored.kept);
  EXPECT_EQ(count_in(*restored.kept), 12U);
}

TEST_F(BackupTest, IsRestoredWhereThereIsNoStore) {
  fill(1, 5);
  const BackupFile made = make();
  fs::remove(file_);
  EXPECT_FALSE(restore_backup(file_, made.file, now).kept);
  EXPECT_EQ(count_in(file_), 5U);
}

TEST_F(BackupTest, OfADamagedStoreTheFileIsKeptToTheByte) {
  fill(1, 5);
  const BackupFile made = make();
  const std::string rubbish(5000, '\x33');
  samples::write_bytes(file_, rubbish);
  samples::write_bytes(file_.string() + "-wal", "its log");
  const Restored restored = restore_backup(file_, made.file, now);
  ASSERT_TRUE(restored.kept);
  EXPECT_EQ(samples::bytes_of(*restored.kept), rubbish);
  EXPECT_EQ(samples::bytes_of(restored.kept->string() + "-wal"), "its log");
  EXPECT_EQ(count_in(file_), 5U);
}

TEST_F(BackupTest, IsRestoredBehindALink) {
  fill(1, 5);
  const BackupFile made = make();
  fill(6, 1);
  const fs::path link = folder_ / "link.store";
  fs::create_symlink(file_, link);
  const Restored restored = restore_backup(link, made.file, now);
  EXPECT_TRUE(fs::is_symlink(link));
  EXPECT_EQ(count_in(file_), 5U);
  EXPECT_EQ(count_in(restored.kept.value()), 6U);
}

// A stick that is not in: its files must not land on the disk they are to be kept from.
TEST_F(BackupTest, IsNotMadeWhereTheDiskIsMissing) {
  fill(1, 1);
  Store store = open();
  EXPECT_EQ(kind_of_failure([&] { make_backup(store, folder_ / "stick" / "backups", now, {}); }),
            FailureKind::missing);
  EXPECT_FALSE(fs::exists(folder_ / "stick"));
}

// SQLite itself would throw that log away.
TEST_F(BackupTest, OfAnEmptyFileTheLogIsKept) {
  fill(1, 5);
  const BackupFile made = make();
  samples::write_bytes(file_, "");
  samples::write_bytes(file_.string() + "-wal", "its log");
  const Restored restored = restore_backup(file_, made.file, now);
  ASSERT_TRUE(restored.kept);
  EXPECT_EQ(samples::bytes_of(restored.kept->string() + "-wal"), "its log");
  EXPECT_FALSE(fs::exists(file_.string() + "-wal"));
  EXPECT_EQ(count_in(file_), 5U);
}

TEST_F(BackupTest, IsNotRestoredUnderAProgramThatHasTheStoreOpen) {
  fill(1, 5);
  const BackupFile made = make();
  fill(6, 1);
  // Another process: locks are a process's.
  int ready[2], end[2];
  ASSERT_EQ(pipe(ready), 0);
  ASSERT_EQ(pipe(end), 0);
  const pid_t child = fork();
  if (child == 0) {
    Store store = open();
    store.pianos();
    char c = 'x';
    if (write(ready[1], &c, 1) != 1 || read(end[0], &c, 1) != 1) _exit(2);
    _exit(store.entries(piano_.id)->size() == 6 ? 0 : 1);
  }
  char c = 0;
  ASSERT_EQ(read(ready[0], &c, 1), 1);
  const auto failure = failure_of([&] { restore_backup(file_, made.file, now); });
  ASSERT_TRUE(failure);
  EXPECT_EQ(failure->kind(), FailureKind::busy);
  ASSERT_EQ(write(end[1], &c, 1), 1);
  int status = 0;
  waitpid(child, &status, 0);
  EXPECT_EQ(status, 0);
  EXPECT_EQ(count_in(file_), 6U);
  EXPECT_THAT(names_in(folder_.path()), testing::UnorderedElementsAre("pianos.store", "backups"));
}

TEST_F(BackupTest, ThatIsNoneOrIsDamagedOrNewerChangesNothing) {
  fill(1, 5);
  const BackupFile made = make();
  fill(6, 1);
  const std::string bytes = samples::bytes_of(made.file);
  const fs::path bad = folder_ / "bad.backup";
  const auto kind = [&](const std::string& content) {
    samples::write_bytes(bad, content);
    const auto failure = failure_of([&] { restore_backup(file_, bad, now); });
    return failure ? std::optional(failure->kind()) : std::nullopt;
  };
  EXPECT_EQ(kind("a letter"), FailureKind::not_a_store);
  EXPECT_EQ(kind(bytes.substr(0, bytes.size() / 2)), FailureKind::damaged);
  std::string newer = bytes;
  newer[60 + 3] = 99;  // user_version (sqlite.org/fileformat2.html, offset 60)
  EXPECT_EQ(kind(newer), FailureKind::newer_version);
  std::string foreign = bytes;
  foreign[68] = 'X';  // application_id
  EXPECT_EQ(kind(foreign), FailureKind::not_a_store);
  EXPECT_EQ(kind(""), FailureKind::not_a_store);
  EXPECT_EQ(kind_of_failure([&] { restore_backup(file_, folder_ / "none", now); }),
            FailureKind::missing);
  EXPECT_EQ(count_in(file_), 6U);
  fs::remove(bad);
  EXPECT_THAT(names_in(folder_.path()), testing::UnorderedElementsAre("pianos.store", "backups"));
}

TEST_F(BackupTest, LetsNoDeviceInThatWasShutOutSince) {
  fill(1, 1);
  {
    Store store = open();
    ASSERT_TRUE(store.add_device({samples::identity(8, 1), "Phone", {1}, 5, 5}));
    ASSERT_TRUE(store.add_device({samples::identity(8, 2), "Tablet", {2}, 5, 5}));
  }
  const BackupFile made = make();
  ASSERT_TRUE(open().revoke_device(samples::identity(8, 1), 777));
  EXPECT_EQ(restore_backup(file_, made.file, now).revoked, 1);
  const auto devices = open().devices();
  ASSERT_THAT(devices, SizeIs(2));
  EXPECT_EQ(devices[0].revoked_ms, 777);
  EXPECT_FALSE(devices[1].revoked_ms);
}

// Killed at any moment while it makes backups and goes back to old ones: the store is always the
// one or the other, whole, and nothing that was in it is gone from both it and its neighbours.
TEST_F(BackupTest, AKillLeavesAWholeStore) {
  fill(1, 400);
  const BackupFile small = make();
  fill(401, 400);
  const BackupFile large = make(now + day);
  const auto work = [&](int i) {
    restore_backup(file_, i % 2 == 0 ? small.file : large.file, now);
    Store store = open();
    make_backup(store, backups_, now + 2 * day, {});
  };
  // How long one round takes on this machine today, so that kills fall everywhere.
  const auto begin = std::chrono::steady_clock::now();
  work(1);
  const auto once = std::chrono::steady_clock::now() - begin;
  const auto most = std::chrono::duration_cast<std::chrono::microseconds>(3 * once).count();
  std::mt19937 random(11);
  int changed = 0, unfinished = 0;
  std::size_t before = 800;
  for (int round = 0; round < 80; ++round) {
    const pid_t child = fork();
    if (child == 0)
      for (int i = 0;; ++i) work(i);
    usleep(static_cast<useconds_t>(random() % static_cast<std::uint64_t>(most)));
    kill(child, SIGKILL);
    waitpid(child, nullptr, 0);
    if (fs::exists(file_.string() + ".restoring")) ++unfinished;
    const std::size_t count = count_in(file_);
    ASSERT_TRUE(count == 400 || count == 800) << count;
    if (count != before) ++changed;
    before = count;
    // Every backup that has its name is whole.
    if (round % 10 == 0) {
      for (const BackupFile& one : list_backups(backups_, file_)) {
        fs::copy_file(one.file, folder_ / "copy.store", fs::copy_options::overwrite_existing);
        const std::size_t in_backup = count_in(folder_ / "copy.store");
        EXPECT_TRUE(in_backup == 400 || in_backup == 800) << in_backup;
      }
    }
    for (const auto& one : fs::directory_iterator(folder_.path()))
      if (one.path().filename().string().find("before-restore") != std::string::npos &&
          round % 10 == 0)
        fs::remove(one.path());
  }
  EXPECT_GT(changed, 5);
  EXPECT_GT(unfinished, 3);
  restore_backup(file_, large.file, now);
  EXPECT_EQ(count_in(file_), 800U);
  EXPECT_FALSE(fs::exists(file_.string() + ".restoring"));
}

}  // namespace
}  // namespace batten

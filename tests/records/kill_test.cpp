// "What is acknowledged is kept", with the process killed at hundreds of random moments (SIGKILL:
// no handler, no destructor, no flush).
#include "records/store.hpp"
#include "tests/records/samples.hpp"

#include <cerrno>
#include <cstdio>
#include <gmock/gmock.h>
#include <random>
#include <set>
#include <signal.h>
#include <sys/wait.h>
#include <system_error>
#include <time.h>
#include <unistd.h>

namespace batten {
namespace {

namespace fs = std::filesystem;
using testing::IsEmpty;

// What the child said before it died.
struct Told {
  bool piano = false;
  bool visit = false;
  std::vector<Uuid> entries;
  bool killed = false;  // and not ended by itself
};

class Child {
 public:
  Child(const fs::path& file, std::uint32_t round) {
    int ends[2];
    if (pipe(ends) != 0) throw std::system_error(errno, std::generic_category(), "pipe");
    std::fflush(nullptr);
    pid_ = fork();
    if (pid_ < 0) throw std::system_error(errno, std::generic_category(), "fork");
    if (pid_ == 0) {
      dup2(ends[1], STDOUT_FILENO);
      close(ends[0]);
      close(ends[1]);
      execl(BATTEN_KILL_CHILD, BATTEN_KILL_CHILD, file.c_str(), std::to_string(round).c_str(),
            static_cast<char*>(nullptr));
      _exit(127);
    }
    close(ends[1]);
    from_ = ends[0];
  }
  ~Child() { close(from_); }
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  // The next acknowledgement; false when the child is gone.
  bool next(Uuid& id) {
    std::size_t have = 0;
    while (have < id.bytes.size()) {
      const ssize_t count = read(from_, id.bytes.data() + have, id.bytes.size() - have);
      if (count <= 0) return false;
      have += static_cast<std::size_t>(count);
    }
    return true;
  }
  void kill() { ::kill(pid_, SIGKILL); }
  bool was_killed() {
    int status = 0;
    waitpid(pid_, &status, 0);
    return WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL;
  }

 private:
  pid_t pid_ = -1;
  int from_ = -1;
};

void take(Told& told, const Uuid& id) {
  if (!told.piano) {
    told.piano = true;
  } else if (!told.visit) {
    told.visit = true;
  } else {
    told.entries.push_back(id);
  }
}

// Lets the child work until so many acknowledgements and a moment more, then kills it.
Told kill_after(const fs::path& file, std::uint32_t round, int acknowledgements, long nanoseconds) {
  Child child(file, round);
  Told told;
  Uuid id;
  if (!child.next(id)) return told;  // it runs
  for (int n = 0; n < acknowledgements && child.next(id); ++n) take(told, id);
  const timespec moment{0, nanoseconds};
  nanosleep(&moment, nullptr);
  child.kill();
  while (child.next(id)) take(told, id);  // what was in the pipe was acknowledged
  told.killed = child.was_killed();
  return told;
}

// Everything told in all rounds is there, and the file is sound.
void expect_kept(const fs::path& file, const std::vector<Uuid>& visits,
                 const std::vector<Uuid>& acknowledged, bool piano) {
  Store store = Store::open(file);
  ASSERT_THAT(store.check(), IsEmpty());  // integrity_check and the rows of foreign_key_check
  if (!piano) return;
  const std::vector<Visit> all_visits = store.visits(samples::piano().id).value();
  const std::vector<Entry> journal = store.entries(samples::piano().id).value();
  std::set<Uuid> there;
  for (const Visit& visit : all_visits) there.insert(visit.id);
  for (const Entry& entry : journal) there.insert(entry.id);
  for (const Uuid& id : visits) ASSERT_TRUE(there.contains(id)) << to_text(id);
  for (const Uuid& id : acknowledged) ASSERT_TRUE(there.contains(id)) << to_text(id);
}

class KillTest : public testing::Test {
 protected:
  void SetUp() override {
    const std::uint32_t seed = std::random_device{}();
    std::printf("seed %u\n", seed);
    chance_.seed(seed);
  }
  int up_to(int most) { return std::uniform_int_distribution(0, most)(chance_); }

  samples::Folder folder_;
  std::mt19937 chance_;
};

TEST_F(KillTest, OneStoreKilledOverAndOver) {
  const fs::path file = folder_ / "pianos.store";
  std::vector<Uuid> visits;
  std::vector<Uuid> acknowledged;
  bool piano = false;
  for (std::uint32_t round = 1; round <= 200; ++round) {
    const Told told = kill_after(file, round, up_to(12), up_to(3'000'000));
    ASSERT_TRUE(told.killed) << "round " << round;
    piano = piano || told.piano;
    if (told.visit) visits.push_back(samples::visit(round).id);
    acknowledged.insert(acknowledged.end(), told.entries.begin(), told.entries.end());
    ASSERT_NO_FATAL_FAILURE(expect_kept(file, visits, acknowledged, piano)) << "round " << round;
  }
  std::printf("200 kills, %zu acknowledged entries\n", acknowledged.size());
  EXPECT_GT(acknowledged.size(), 200U);
}

TEST_F(KillTest, FreshStoresKilledWhileTheyAreMade) {
  int unfinished = 0;
  std::size_t acknowledged = 0;
  for (std::uint32_t round = 1; round <= 120; ++round) {
    const fs::path file = folder_ / (std::to_string(round) + ".store");
    const Told told = kill_after(file, round, up_to(1) * up_to(3), up_to(20'000'000));
    ASSERT_TRUE(told.killed) << "round " << round;
    if (!told.visit) ++unfinished;
    acknowledged += told.entries.size();
    std::vector<Uuid> visits;
    if (told.visit) visits.push_back(samples::visit(round).id);
    ASSERT_NO_FATAL_FAILURE(expect_kept(file, visits, told.entries, told.piano)) << round;
  }
  std::printf("120 kills, %d before the first visit was there, %zu acknowledged entries\n",
              unfinished, acknowledged);
}

}  // namespace
}  // namespace batten

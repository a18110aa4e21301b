// Where the store lies, and what is said when it cannot be opened.
#include "app/desk.hpp"

#include "app/pianos.hpp"
#include "tests/records/samples.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <gmock/gmock.h>
#include <new>
#include <optional>
#include <stdexcept>
#include <sys/stat.h>
#include <unistd.h>

namespace batten {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

// Sets a variable, or takes it away, and puts it back at the end.
class Variable {
 public:
  Variable(const char* name, const char* value) : name_(name) {
    if (const char* old = std::getenv(name)) old_ = old;
    if (value != nullptr)
      setenv(name, value, 1);
    else
      unsetenv(name);
  }
  ~Variable() {
    if (old_)
      setenv(name_, old_->c_str(), 1);
    else
      unsetenv(name_);
  }
  Variable(const Variable&) = delete;
  Variable& operator=(const Variable&) = delete;

 private:
  const char* name_;
  std::optional<std::string> old_;
};

// XDG Base Directory Specification 0.8: $XDG_DATA_HOME, or $HOME/.local/share where it is not set
// or empty; "all paths set in these environment variables must be absolute", others are ignored.
TEST(UsualStorePath, FollowsTheBaseDirectorySpecification) {
  const Variable home("HOME", "/home/mira");
  const auto path_with = [](const char* xdg) {
    const Variable data("XDG_DATA_HOME", xdg);
    return usual_store_path().value();
  };
  EXPECT_EQ(path_with("/data"), "/data/batten/journal.store");
  EXPECT_EQ(path_with(nullptr), "/home/mira/.local/share/batten/journal.store");
  EXPECT_EQ(path_with(""), "/home/mira/.local/share/batten/journal.store");
  EXPECT_EQ(path_with("data"), "/home/mira/.local/share/batten/journal.store");
}

TEST(UsualStorePath, WithoutAHomeSaysWhatToDo) {
  const Variable home("HOME", nullptr), data("XDG_DATA_HOME", nullptr);
  ASSERT_FALSE(usual_store_path());
  EXPECT_THAT(usual_store_path().error().todo, HasSubstr("--store"));
}

TEST(OpenDesk, MakesTheFoldersAndKeepsWhatIsThere) {
  const samples::Folder folder;
  const fs::path file = folder.path() / "a" / "b" / "journal.store";
  {
    auto desk = open_desk(file, "Mira");
    ASSERT_TRUE(desk);
    EXPECT_EQ(desk->who, "Mira");
    EXPECT_NE(desk->new_id(), desk->new_id());
    EXPECT_GT(desk->now_ms(), 1'700'000'000'000);  // after November 2023
    ASSERT_TRUE(add_piano(*desk, {"Hall", "", {}, ""}));
  }
  auto again = open_desk(file, "");
  ASSERT_TRUE(again);
  EXPECT_EQ(list_pianos(*again)->size(), 1U);
}

void expect_sentence(const Result<Desk>& desk) {
  ASSERT_FALSE(desk);
  const Problem& p = desk.error();
  EXPECT_THAT(p.happened, HasSubstr("."));
  EXPECT_FALSE(p.todo.empty()) << p.sentence();
  // The words of a library are for a log, not for a person.
  EXPECT_THAT(p.sentence(), ::testing::Not(HasSubstr("SQLITE")));
}

TEST(OpenDesk, AFolderIsNoStore) {
  const samples::Folder folder;
  expect_sentence(open_desk(folder.path(), ""));
}

TEST(OpenDesk, AnotherKindOfFileIsNoStoreAndIsLeftAlone) {
  const samples::Folder folder;
  samples::write_bytes(folder / "notes.txt", "shopping: felt, paper punchings\n");
  expect_sentence(open_desk(folder / "notes.txt", ""));
  EXPECT_EQ(samples::bytes_of(folder / "notes.txt"), "shopping: felt, paper punchings\n");
}

TEST(OpenDesk, AFileInTheWayOfAFolder) {
  const samples::Folder folder;
  samples::write_bytes(folder / "file", "x");
  expect_sentence(open_desk(folder.path() / "file" / "journal.store", ""));
}

TEST(OpenDesk, AStoreOfALaterVersionIsRefusedAndLeftAlone) {
  const samples::Folder folder;
  ASSERT_TRUE(open_desk(folder / "journal.store", ""));
  std::string bytes = samples::bytes_of(folder / "journal.store");
  bytes[62] = 9;  // user version: big-endian at offset 60 (sqlite.org, database file format)
  samples::write_bytes(folder / "journal.store", bytes);
  const auto desk = open_desk(folder / "journal.store", "");
  expect_sentence(desk);
  EXPECT_THAT(desk.error().happened, HasSubstr("later version"));
  EXPECT_EQ(samples::bytes_of(folder / "journal.store"), bytes);
}

// As another user when run by root, who may write anywhere.
TEST(OpenDesk, AFolderThatMayNotBeWritten) {
  const samples::Folder folder;
  fs::permissions(folder.path(), fs::perms(0555));
  const bool root = geteuid() == 0;
  if (root) {
    ASSERT_EQ(seteuid(65534), 0);
  }
  const auto desk = open_desk(folder / "journal.store", "");
  const auto deeper = open_desk(folder.path() / "batten" / "journal.store", "");
  if (root) {
    ASSERT_EQ(seteuid(0), 0);
  }
  expect_sentence(desk);
  expect_sentence(deeper);
  EXPECT_TRUE(fs::is_empty(folder.path()));
}

TEST(Explain, EveryFailureBecomesASentenceThatSaysWhatToDo) {
  for (const Problem& p :
       {explain(std::bad_alloc()), explain(std::runtime_error("x")),
        explain(fs::filesystem_error("rename", std::make_error_code(std::errc::io_error)))}) {
    EXPECT_FALSE(p.happened.empty());
    EXPECT_FALSE(p.kept.empty());
    EXPECT_FALSE(p.todo.empty());
  }
  EXPECT_THAT(explain(std::bad_alloc()).happened, HasSubstr("memory"));
}

TEST(Guarded, LetsNothingThrough) {
  const auto result = guarded([]() -> Result<int> { throw std::runtime_error("lost"); });
  ASSERT_FALSE(result);
  EXPECT_THAT(result.error().happened, HasSubstr("lost"));
  EXPECT_EQ(*guarded([]() -> Result<int> { return 4; }), 4);
}

}  // namespace
}  // namespace batten

#include "tests/records/cut_migration.hpp"

#include "records/opening.hpp"
#include "records/store.hpp"
#include "tests/records/failures.hpp"
#include "tests/records/power_cut_disk.hpp"

#include <gmock/gmock.h>
#include <memory>

namespace batten::tests {

using testing::IsEmpty;

void cut_migration_everywhere(const std::map<std::string, std::string>& old,
                              const std::vector<Migration>& steps, int from, const Uuid& piano,
                              const std::vector<Entry>& journal) {
  const int to = steps.back().version;
  int old_ones = 0;
  int new_ones = 0;
  for (std::uint64_t cut = 1; cut < 500; ++cut) {
    PowerCutDisk disk;
    for (const auto& [name, bytes] : old) disk.put(name, bytes);
    OpenOptions options;
    options.vfs = disk.vfs_name();
    disk.cut_at(cut);
    failure_of([&] { open_store("/pianos.store", options, steps); });
    if (!disk.is_off()) break;
    disk.restart(cut);
    int version = 0;
    {
      sqlite::Connection plain("/pianos.store", SQLITE_OPEN_READWRITE, disk.vfs_name());
      version = version_of(plain);
      EXPECT_EQ(plain.lines("PRAGMA integrity_check"), std::vector<std::string>{"ok"}) << cut;
      EXPECT_THAT(plain.lines("PRAGMA foreign_key_check"), IsEmpty()) << cut;
      EXPECT_EQ(plain.number("SELECT count(*) FROM entry"),
                static_cast<std::int64_t>(journal.size()));
    }
    ASSERT_TRUE(version == from || version == to) << cut;
    ++(version == from ? old_ones : new_ones);
    const std::string copy = "/pianos.store.before-v" + std::to_string(to);
    const std::string old_one = version == from ? "/pianos.store" : copy;
    EXPECT_EQ(Store::open(old_one, options).entries(piano).value(), journal) << cut;
    EXPECT_EQ(version_of(*std::make_unique<sqlite::Connection>(
                  open_store("/pianos.store", options, steps))),
              to);
  }
  EXPECT_GT(old_ones, 5);
  EXPECT_GT(new_ones, 1);
}

}  // namespace batten::tests

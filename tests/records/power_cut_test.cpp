// "What is acknowledged is kept", with the power cut at a thousand points of a working day.
#include "records/opening.hpp"
#include "records/store.hpp"
#include "tests/records/power_cut_disk.hpp"
#include "tests/records/samples.hpp"

#include <gtest/gtest.h>

#include <cstdio>
#include <sqlite3.h>

namespace batten {
namespace {

using tests::PowerCutDisk;

// A thousand cuts, in four tests so that they can run side by side.
constexpr std::uint64_t cuts = 1000;
constexpr std::uint64_t parts = 4;
const char* const file_name = "/day/pianos.store";

OpenOptions options_for(const PowerCutDisk& disk, bool synced) {
  OpenOptions options;
  options.vfs = disk.vfs_name();
  options.synced = synced;
  options.checkpoint_pages = 24;  // so that the log is moved to the main file during the day too
  return options;
}

// How far a day's work was acknowledged.
struct Acknowledged {
  bool piano = false;
  bool visit = false;
  std::size_t entries = 0;
  std::size_t under_way = 0;  // of the append that was not answered
};

// The day's entries in order: 126 appends of one to three.
std::vector<std::vector<Entry>> day_of_entries() {
  std::vector<std::vector<Entry>> day;
  std::uint32_t number = 0;
  for (std::uint32_t i = 0; i < 126; ++i) {
    std::vector<Entry> together;
    for (std::uint32_t n = 0; n <= i % 3; ++n) {
      together.push_back(samples::reading(++number, samples::visit()));
    }
    // Over two pages now and then.
    if (i % 9 == 8) {
      together.back().content = Remark{Key{40}, std::string(5000, static_cast<char>('a' + i % 26))};
    }
    day.push_back(std::move(together));
  }
  return day;
}

// Works until done or until the power goes. The store is opened and closed three times.
Acknowledged work(const PowerCutDisk& disk, bool synced,
                  const std::vector<std::vector<Entry>>& day) {
  Acknowledged so_far;
  const Piano piano = samples::piano();
  try {
    for (std::size_t part = 0; part < 3; ++part) {
      Store store = Store::open(file_name, options_for(disk, synced));
      if (part == 0) {
        so_far.piano = store.add_piano(piano).has_value();
        so_far.visit = store.add_visit(piano.id, samples::visit()).has_value();
      }
      for (std::size_t i = part * day.size() / 3; i < (part + 1) * day.size() / 3; ++i) {
        so_far.under_way = day[i].size();
        if (!store.append(piano.id, day[i])) ADD_FAILURE() << "append refused";
        so_far.entries += day[i].size();
        so_far.under_way = 0;
      }
    }
  } catch (const StoreFailure& failure) {
    EXPECT_TRUE(disk.is_off()) << failure.what() << failure.detail();
  }
  return so_far;
}

// What is wrong on the disk that came back; empty if every promise was kept. `goes_on`: also finish
// the day on it.
std::string broken_promise(PowerCutDisk& disk, const Acknowledged& told,
                           const std::vector<std::vector<Entry>>& day, bool goes_on) {
  try {
    Store store = Store::open(file_name, options_for(disk, true));
    const std::vector<std::string> broken = store.check();
    if (!broken.empty()) return "not sound: " + broken.front();
    const Piano piano = samples::piano();
    if (told.piano && store.pianos().size() != 1) return "the piano is gone";
    if (told.visit && store.visits(piano.id).value().size() != 1) return "the visit is gone";
    std::vector<Entry> there;
    if (told.piano) there = store.entries(piano.id).value();
    // All that was acknowledged, in order, and of the append under way all or nothing.
    if (there.size() < told.entries) return "acknowledged entries are gone";
    if (there.size() != told.entries && there.size() != told.entries + told.under_way) {
      return "part of an append is there";
    }
    std::size_t n = 0;
    for (const auto& together : day) {
      for (const Entry& entry : together) {
        if (n < there.size() && there[n] != entry) return "an entry is not what was entered";
        ++n;
      }
    }
    // And work goes on.
    if (told.visit && goes_on) {
      for (const auto& together : day) {
        if (!store.append(piano.id, together)) return "an entry cannot be sent again";
      }
      if (store.entries(piano.id).value().size() != n) return "the day cannot be finished";
    }
  } catch (const StoreFailure& failure) {
    return std::string("does not open: ") + failure.what() + failure.detail();
  }
  return "";
}

struct Tally {
  std::uint64_t operations = 0;  // of the whole day
  std::uint64_t cuts_during_work = 0;
  std::uint64_t broken = 0;
  std::string first;
};

// Cuts numbered `first`, `first` + `step`, … of `count` spread evenly over the day's operations.
Tally cut_the_power(bool synced, PowerCutDisk::Overwrite overwrite, std::uint64_t count,
                    std::uint64_t first = 0, std::uint64_t step = 1) {
  const auto day = day_of_entries();
  std::uint64_t operations = 0;
  {
    PowerCutDisk whole(overwrite);
    work(whole, synced, day);
    operations = whole.operations();
  }
  Tally tally;
  tally.operations = operations;
  for (std::uint64_t i = first; i < count; i += step) {
    // SQLite's own chance (the log's salts) follows the seed as well.
    sqlite3_test_control(SQLITE_TESTCTRL_PRNG_SEED, static_cast<int>(i + 1), nullptr);
    PowerCutDisk disk(overwrite);
    const std::uint64_t at = 1 + i * operations / count;
    disk.cut_at(at);
    const Acknowledged told = work(disk, synced, day);
    if (disk.is_off()) ++tally.cuts_during_work;
    disk.restart(i);
    const std::string broken = broken_promise(disk, told, day, i % 5 == 0);
    if (!broken.empty() && tally.broken++ == 0) {
      tally.first = "cut at operation " + std::to_string(at) + " of " + std::to_string(operations) +
                    ", seed " + std::to_string(i) + ": " + broken;
    }
  }
  std::printf("%llu cuts over %llu operations, %llu broken promises\n",
              static_cast<unsigned long long>(tally.cuts_during_work),
              static_cast<unsigned long long>(operations),
              static_cast<unsigned long long>(tally.broken));
  return tally;
}

class PowerCutPart : public testing::TestWithParam<std::uint64_t> {};

// SQLite promises this for a write-ahead log with synchronous=FULL: transactions are durable across
// a power loss (sqlite.org/pragma.html#pragma_synchronous).
TEST_P(PowerCutPart, NothingAcknowledgedIsLost) {
  const Tally tally = cut_the_power(true, PowerCutDisk::Overwrite::safe, cuts, GetParam(), parts);
  EXPECT_EQ(tally.cuts_during_work, cuts / parts);
  EXPECT_GE(tally.operations, cuts);  // so every cut is at a point of its own
  EXPECT_EQ(tally.broken, 0U) << tally.first;
}

INSTANTIATE_TEST_SUITE_P(OfFour, PowerCutPart, testing::Range(std::uint64_t{0}, parts));

TEST(PowerCut, NothingAcknowledgedIsLostWhereOverwritingEndangersNeighbours) {
  const Tally tally = cut_the_power(true, PowerCutDisk::Overwrite::unsafe, cuts / 4);
  EXPECT_EQ(tally.broken, 0U) << tally.first;
}

// The same day without syncs loses entries: the disk does test what it is meant to.
TEST(PowerCut, WithoutSyncsAcknowledgedEntriesAreLost) {
  const Tally tally = cut_the_power(false, PowerCutDisk::Overwrite::safe, cuts / 10);
  EXPECT_GT(tally.broken, 0U);
}

}  // namespace
}  // namespace batten

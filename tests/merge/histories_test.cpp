// Whatever technicians enter, and in whatever order and however often they take each other's files,
// in the end all hold the same, nothing is lost and nothing is doubled. What each store must hold
// is reckoned beside it, as plainly as the definition says it (histories.hpp).
#include "tests/merge/histories.hpp"

#include "core/journal/fold.hpp"
#include "exchange/bundle.hpp"
#include "tests/records/samples.hpp"

#include <algorithm>
#include <gmock/gmock.h>

namespace batten::tests {
namespace {

// Two thousand take a minute where they are optimised, many under a sanitizer.
#if defined(NDEBUG)
constexpr std::uint32_t histories = 2000;
#else
constexpr std::uint32_t histories = 250;
#endif
constexpr std::uint32_t parts = 8;

class Histories : public testing::TestWithParam<std::uint32_t> {
 protected:
  void check(History& history, std::vector<Store>& stores) {
    const std::vector<Entry> wanted = history.plain().front().in_order();
    ASSERT_EQ(wanted.size(), history.acknowledged().size());
    std::map<Uuid, std::size_t> place;
    for (std::size_t i = 0; i < wanted.size(); ++i) {
      place[wanted[i].id] = i;
      EXPECT_EQ(wanted[i], history.acknowledged().at(wanted[i].id));
    }
    const std::string bundle = write_bundle(stores.front().whole(history.piano().id).value());
    for (std::size_t s = 0; s < stores.size(); ++s) {
      EXPECT_EQ(stores[s].entries(history.piano().id).value(), wanted) << "store " << s;
      EXPECT_EQ(fold(stores[s].entries(history.piano().id).value()), fold(wanted));
      // The same visits, places in the order and all, to the byte.
      EXPECT_EQ(write_bundle(stores[s].whole(history.piano().id).value()), bundle) << "store " << s;
      auto lines = stores[s].journal(history.piano().id).value();
      for (const JournalLine& line : lines)
        EXPECT_EQ(line.stamp, history.plain()[s].entries.at(line.entry.id).first);
      // Arrival: 1, 2, 3 … each once.
      std::ranges::sort(lines, {}, &JournalLine::arrival);
      for (std::size_t i = 0; i < lines.size(); ++i)
        ASSERT_EQ(lines[i].arrival, static_cast<std::int64_t>(i) + 1);
    }
    // Lamport's condition: what was entered in the knowledge of another entry is read after it.
    for (const auto& [known, later] : history.known_before()) {
      if (history.sent_twice().contains(known) || history.sent_twice().contains(later)) continue;
      EXPECT_LT(place.at(known), place.at(later));
    }
  }
};

TEST_P(Histories, EndInTheSameJournalEverywhere) {
  const samples::Folder folder;
  OpenOptions quick;
  quick.synced = false;  // no power cut is played here
  std::vector<Store> stores;
  for (int i = 0; i < 4; ++i)
    stores.push_back(Store::open(folder / ("store" + std::to_string(i)), quick));
  std::size_t entries = 0, sent_twice = 0;
  int files = 0;
  for (std::uint32_t n = 0; n < histories / parts; ++n) {
    const std::uint32_t seed = GetParam() * (histories / parts) + n;
    SCOPED_TRACE("history " + std::to_string(seed));
    std::vector<Store> some;
    const std::size_t count = 2 + seed % 3;
    for (std::size_t i = 0; i < count; ++i) some.push_back(std::move(stores[i]));
    History history(some, seed);
    history.run(20 + static_cast<int>(seed % 40));
    history.join();
    if (!HasFailure()) check(history, some);
    entries += history.acknowledged().size();
    sent_twice += history.sent_twice().size();
    files += history.files_taken();
    for (std::size_t i = 0; i < count; ++i) stores[i] = std::move(some[i]);
    if (HasFailure()) break;
  }
  for (Store& store : stores) EXPECT_THAT(store.check(), testing::IsEmpty());
  // The histories are worth something: many entries, many files, and entries sent to two stores.
  constexpr std::uint32_t each = histories / parts;
  EXPECT_GT(entries, each * 20U);
  EXPECT_GT(files, static_cast<int>(each * 8));
  EXPECT_GT(sent_twice, each / 10);
}

INSTANTIATE_TEST_SUITE_P(OfEight, Histories, testing::Range(0U, parts));

}  // namespace
}  // namespace batten::tests

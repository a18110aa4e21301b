#include "tests/merge/histories.hpp"

#include "exchange/bundle.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <iterator>
#include <limits>

namespace batten::tests {

void PlainStore::append(const Entry& entry) {
  std::int64_t last = 0;
  for (const auto& [id, one] : entries) last = std::max(last, one.first);
  // As the promise of core/journal/order.hpp says it, in other words.
  std::int64_t clock = entry.at_ms;
  if (clock < 1) clock = 1;
  if (clock > 253'402'300'799'999) clock = 253'402'300'799'999;
  entries.emplace(entry.id, std::pair(clock > last ? clock : last + 1, entry));
}

void PlainStore::merge(const PlainStore& other) {
  for (const auto& [id, one] : other.entries) {
    const auto there = entries.find(id);
    if (there == entries.end()) {
      entries.emplace(id, one);
    } else {
      there->second.first = std::min(there->second.first, one.first);
    }
  }
  visits.insert(other.visits.begin(), other.visits.end());
  has_piano = has_piano || other.has_piano;
}

std::vector<Entry> PlainStore::in_order() const {
  std::vector<std::pair<std::pair<std::int64_t, Uuid>, Entry>> all;
  for (const auto& [id, one] : entries) all.push_back({{one.first, id}, one.second});
  std::ranges::sort(all, {}, [](const auto& one) { return one.first; });
  std::vector<Entry> order;
  for (auto& one : all) order.push_back(std::move(one.second));
  return order;
}

History::History(std::vector<Store>& stores, std::uint32_t seed)
    : stores_(stores), random_(seed), seed_(seed), plain_(stores.size()) {
  piano_ = {new_id(1), "Grand " + std::to_string(seed), "Aula", 1, 88, 1'700'000'000'000 + seed};
  for (std::size_t i = 0; i < stores.size(); ++i)
    // Days apart, and one in eight quite wrong.
    clocks_.push_back(any(8) == 0 ? static_cast<std::int64_t>(any(3)) - 1
                                  : 1'700'000'000'000 + static_cast<std::int64_t>(any(1U << 28U)));
  EXPECT_TRUE(stores_[0].add_piano(piano_));
  plain_[0].has_piano = true;
  begin_visit(0);
}

Uuid History::new_id(std::uint8_t family) {
  Uuid id;
  // Random before counted: the order of identities says nothing of the order they were made in.
  for (std::size_t i = 0; i < 8; ++i) id.bytes[i] = static_cast<std::uint8_t>(random_() & 255U);
  id.bytes[8] = family;
  for (std::size_t i = 0; i < 3; ++i) {
    id.bytes[9 + i] = static_cast<std::uint8_t>(seed_ >> (8 * i) & 255U);
    id.bytes[13 + i] = static_cast<std::uint8_t>(count_ >> (8 * i) & 255U);
  }
  ++count_;
  return id;
}

EntryContent History::any_content(std::size_t store) {
  const Key key{static_cast<int>(any(88)) + 1};
  const auto& known = plain_[store].entries;
  switch (any(9)) {
    case 0:
    case 1:
      return ReadingTaken{Reading::string_height,
                          key,
                          190 + 0.1 * static_cast<double>(any(90)),
                          0.1,
                          "gauge",
                          "½ \"x\"\n"};
    case 2:
      return MoveMade{Adjuster::capstan, key, (static_cast<double>(any(64)) - 32) / 64, ""};
    case 3:
      return MoveSkipped{Adjuster::capstan, any(4) == 0 ? std::optional<Key>{} : key, "später"};
    case 4:
      return PreparationNoted{PreparationItem::screws_tight,
                              any(3) == 0 ? std::optional<Key>{} : key,
                              any(2) == 0 ? PreparationState::done : PreparationState::found, ""};
    case 5:
      return SettingChosen{"blow-target", std::to_string(40 + any(9))};
    case 6:
      return Remark{key, std::string("a\0b 割", 7)};
    default: {
      if (known.empty() || any(6) == 0) return Undo{new_id(9)};  // of what nobody has
      return Undo{std::next(known.begin(), static_cast<std::ptrdiff_t>(any(known.size())))->first};
    }
  }
}

void History::enter(std::size_t store) {
  // Forward mostly, now and then far or back, and at times as wrong as a clock can be.
  clocks_[store] += any(10) == 0 ? -static_cast<std::int64_t>(any(5'000'000))
                                 : static_cast<std::int64_t>(any(100'000));
  const std::int64_t now = any(400) == 0   ? std::numeric_limits<std::int64_t>::max()
                           : any(400) == 0 ? std::numeric_limits<std::int64_t>::min()
                                           : clocks_[store];
  auto& plain = plain_[store];
  const auto visit =
      std::next(plain.visits.begin(), static_cast<std::ptrdiff_t>(any(plain.visits.size())));
  std::vector<Entry> entries;
  for (std::size_t n = any(3) + 1; n > 0; --n)
    entries.push_back(
        {new_id(3), visit->first, now, store == 0 ? "Ada" : "Zoë", any_content(store)});
  const auto before = plain.in_order();
  const auto done = stores_[store].append(piano_.id, entries);
  ASSERT_TRUE(done) << done.error().sentence();
  for (const Entry& e : entries) {
    plain.append(e);
    acknowledged_.emplace(e.id, e);
    if (!before.empty()) known_before_.emplace_back(before.back().id, e.id);
  }
}

void History::begin_visit(std::size_t store) {
  const Visit visit{new_id(2), clocks_[store] + static_cast<std::int64_t>(any(2)), "visit"};
  ASSERT_TRUE(stores_[store].add_visit(piano_.id, visit));
  plain_[store].visits.emplace(visit.id, visit);
}

// A tablet that did not hear an answer sends the entry to whichever machine it finds.
void History::send_again(std::size_t store) {
  if (acknowledged_.empty()) return;
  const auto& [id, entry] =
      *std::next(acknowledged_.begin(), static_cast<std::ptrdiff_t>(any(acknowledged_.size())));
  if (!plain_[store].visits.contains(entry.visit)) return;
  const bool new_here = !plain_[store].entries.contains(id);
  const auto done = stores_[store].append(piano_.id, std::vector{entry});
  ASSERT_TRUE(done);
  EXPECT_EQ(done->added, new_here ? 1U : 0U);
  if (!new_here) return;
  plain_[store].append(entry);
  sent_twice_.insert(id);
}

void History::give(std::size_t store) {
  const auto whole = stores_[store].whole(piano_.id);
  ASSERT_TRUE(whole);
  files_.push_back({write_bundle(*whole), plain_[store]});
}

void History::take(std::size_t store, std::size_t file) {
  const auto read = read_bundle(files_[file].text);
  ASSERT_TRUE(read) << read.error().sentence();
  const std::size_t before = plain_[store].entries.size();
  const auto taken = stores_[store].merge(*read);
  ASSERT_TRUE(taken) << taken.error().sentence();
  EXPECT_EQ(taken->piano_added, !plain_[store].has_piano);
  plain_[store].merge(files_[file].holds);
  EXPECT_EQ(taken->entries_added, plain_[store].entries.size() - before);
  EXPECT_EQ(taken->entries_added + taken->entries_already_there, files_[file].holds.entries.size());
  ++files_taken_;
}

void History::run(int steps) {
  for (int i = 0; i < steps; ++i) {
    const std::size_t store = any(stores_.size());
    if (!plain_[store].has_piano) {
      if (!files_.empty()) take(store, any(files_.size()));
      continue;
    }
    const std::size_t what = any(20);
    if (what < 11) {
      enter(store);
    } else if (what < 12) {
      begin_visit(store);
    } else if (what < 13) {
      send_again(store);
    } else if (what < 16 || files_.empty()) {
      give(store);
    } else {
      take(store, any(files_.size()));
    }
  }
}

void History::join() {
  const std::size_t first = files_.size();
  for (std::size_t i = 0; i < stores_.size(); ++i)
    if (plain_[i].has_piano) give(i);
  for (std::size_t i = 0; i < stores_.size(); ++i) {
    std::vector<std::size_t> order;
    for (std::size_t f = first; f < files_.size(); ++f) order.insert(order.end(), any(2) + 1, f);
    std::ranges::shuffle(order, random_);
    for (const std::size_t f : order) take(i, f);
  }
}

}  // namespace batten::tests

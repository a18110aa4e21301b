// What a store refuses to take in, and what it then still holds: all it held before.
#include "exchange/bundle.hpp"
#include "records/store.hpp"
#include "tests/records/samples.hpp"

#include <gmock/gmock.h>
#include <memory>

namespace batten {
namespace {

using testing::HasSubstr;

class MergeTest : public testing::Test {
 protected:
  void SetUp() override {
    store_ = std::make_unique<Store>(Store::open(folder_ / "pianos.store"));
    ASSERT_TRUE(store_->merge(whole_));
    ASSERT_TRUE(store_->add_piano(samples::piano(2)));
    ASSERT_TRUE(store_->add_visit(samples::piano(2).id, samples::visit(2)));
    ASSERT_TRUE(store_->append(samples::piano(2).id,
                               std::vector{samples::reading(500, samples::visit(2))}));
  }
  static WholeJournal whole() {
    WholeJournal all{samples::piano(), {samples::visit()}, {}};
    std::int64_t stamp = 0;
    for (std::uint32_t n = 1; n <= 5; ++n) {
      const Entry e = samples::reading(n, samples::visit());
      all.entries.push_back({e, stamp = next_stamp(stamp, e.at_ms)});
    }
    return all;
  }
  // Everything there is, as text.
  std::string all_of_it() {
    std::string all;
    for (const PianoSummary& one : store_->pianos())
      all += write_bundle(store_->whole(one.piano.id).value());
    return all;
  }
  void expect_refused(const WholeJournal& from, const std::string& words,
                      std::string_view as = {}) {
    const std::string before = all_of_it();
    const auto merged = store_->merge(from, as);
    ASSERT_FALSE(merged) << words;
    EXPECT_THAT(merged.error().happened, HasSubstr(words));
    EXPECT_EQ(all_of_it(), before);
  }

  samples::Folder folder_;
  const WholeJournal whole_ = whole();
  std::unique_ptr<Store> store_;
};

TEST_F(MergeTest, TheSameAgainChangesNothing) {
  const std::string before = all_of_it();
  const auto merged = store_->merge(whole_);
  ASSERT_TRUE(merged);
  EXPECT_FALSE(merged->piano_added);
  EXPECT_EQ(merged->entries_added, 0U);
  EXPECT_EQ(merged->entries_already_there, 5U);
  EXPECT_EQ(merged->visits_already_there, 1U);
  EXPECT_EQ(all_of_it(), before);
}

TEST_F(MergeTest, OtherContentUnderTheSameIdentityIsRefusedAndNamed) {
  WholeJournal other = whole_;
  // Good ones before it are not kept either.
  other.entries.front().entry.id = samples::identity(7, 1);
  other.entries.back().entry.who = "Zoë";
  expect_refused(other, to_text(other.entries.back().entry.id));

  other = whole_;
  other.visits.front().title = "another";
  expect_refused(other, to_text(other.visits.front().id));

  other = whole_;
  other.piano.highest_key = 85;
  expect_refused(other, "Piano 1");
}

TEST_F(MergeTest, WhatIsAtAnotherPianoIsRefused) {
  WholeJournal other = whole_;
  other.visits.push_back(samples::visit(2));
  expect_refused(other, to_text(samples::visit(2).id));

  other = whole_;
  Entry entry = samples::reading(500, samples::visit());  // of piano 2
  other.entries.push_back({entry, other.entries.back().stamp + 1});
  expect_refused(other, to_text(entry.id));

  other = whole_;
  other.entries.back().entry.visit = samples::visit(9).id;
  other.entries.back().entry.id = samples::identity(7, 2);
  expect_refused(other, to_text(samples::visit(9).id));
}

TEST_F(MergeTest, WhatNoStoreWouldWriteIsRefused) {
  WholeJournal other = whole_;
  other.piano.id = {};
  expect_refused(other, "identity");
  other = whole_;
  other.piano.name = "\xff";
  expect_refused(other, "UTF-8");
  other = whole_;
  other.visits.push_back({{}, 5, ""});
  expect_refused(other, "identity");
  other = whole_;
  other.entries.back().entry.id = samples::identity(7, 3);
  std::get<ReadingTaken>(other.entries.back().entry.content).uncertainty = 0;
  expect_refused(other, "uncertainty");
  // A stamp from the end of time would make all later ones worthless.
  for (const std::int64_t stamp :
       {std::int64_t{0}, std::int64_t{-5}, latest_clock_ms, latest_stamp}) {
    other = whole_;
    other.entries.back().stamp = stamp;
    expect_refused(other, "place in the order");
  }
}

TEST_F(MergeTest, APianoWhoseNameIsTakenGetsANumberOrTheNameAskedFor) {
  WholeJournal other = whole_;
  other.piano.id = samples::identity(1, 77);
  other.piano.name = "PIANO 1";  // A…Z and a…z are equal
  other.visits.front().id = samples::identity(2, 77);
  other.entries.clear();
  expect_refused(other, "already", "piano 2");
  const auto first = store_->merge(other);
  ASSERT_TRUE(first);
  EXPECT_TRUE(first->piano_added);
  EXPECT_EQ(first->piano.name, "PIANO 1 2");
  // Again, also under another name: it keeps the one it has.
  EXPECT_EQ(store_->merge(other, "third")->piano.name, "PIANO 1 2");

  other.piano.id = samples::identity(1, 78);
  other.visits.front().id = samples::identity(2, 78);
  EXPECT_EQ(store_->merge(other, "Aula")->piano.name, "Aula");
}

TEST_F(MergeTest, TheNameAndPlaceHereStay) {
  WholeJournal other = whole_;
  other.piano.name = "Grand of the aula";
  other.piano.place = "elsewhere";
  EXPECT_EQ(store_->merge(other)->piano, samples::piano());
}

TEST_F(MergeTest, EntriesOfAnOlderClockAreReadWhereTheyBelongAndCountAsNew) {
  WholeJournal other = whole_;
  other.entries.erase(other.entries.begin() + 1, other.entries.end());
  Entry early = samples::reading(90, samples::visit());
  early.at_ms = 1'600'000'000'000;
  other.entries.insert(other.entries.begin(), {early, early.at_ms});
  const auto merged = store_->merge(other);
  ASSERT_TRUE(merged);
  EXPECT_EQ(merged->entries_added, 1U);
  const Uuid piano = samples::piano().id;
  EXPECT_EQ(store_->entries(piano)->front(), early);
  EXPECT_EQ(store_->revision(piano), 6);
  EXPECT_EQ(store_->journal(piano)->front().arrival, 6);
  // As it was before: those that had arrived by then.
  EXPECT_THAT(store_->entries_at(piano, 5).value(), testing::Not(testing::Contains(early)));
  EXPECT_EQ(store_->entries_at(piano, 5)->size(), 5U);
  EXPECT_EQ(store_->entries_at(piano, 0)->size(), 0U);
}

}  // namespace
}  // namespace batten

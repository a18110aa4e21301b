// Samples and filling by halves are common practice, no source: the tests hold the stated rules.
#include "core/keyboard/samples.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <gmock/gmock.h>
#include <iterator>
#include <set>
#include <vector>

namespace batten {
namespace {

using ::testing::ElementsAre;

const Compass full{};

std::vector<Section> layout() { return *parse_sections("E2 bridge, A#4 strut, D6 strut", full); }

TEST(ProposeSamples, HoldsSectionEndsAndAllBsAndEsAndNothingElse) {
  const std::vector<Section> sections = layout();
  const std::vector<Key> samples = propose_samples(sections);
  EXPECT_TRUE(std::is_sorted(samples.begin(), samples.end()));
  EXPECT_EQ(std::adjacent_find(samples.begin(), samples.end()), samples.end());
  for (int position = 0; position < full.count(); ++position) {
    const Key key = full.at(position);
    const std::string name = note_name(key);
    const bool end = std::any_of(sections.begin(), sections.end(), [&](const Section& section) {
      return section.first == key || section.last == key;
    });
    const bool b_or_e = name.front() == 'B' || name.front() == 'E';
    EXPECT_EQ(std::binary_search(samples.begin(), samples.end(), key), end || b_or_e) << name;
  }
  // Eight Bs and seven Es from A0 to C8, and six ends that are neither; E2 is an end and an E.
  EXPECT_EQ(samples.size(), 21U);
}

TEST(ProposeFullerSamples, AddsOneNaturalAnOctaveWhereThereIsOneLeft) {
  const std::vector<Section> sections = layout();
  const std::vector<Key> samples = propose_samples(sections);
  const std::vector<Key> fuller = propose_fuller_samples(sections);
  EXPECT_TRUE(std::is_sorted(fuller.begin(), fuller.end()));
  EXPECT_TRUE(std::includes(fuller.begin(), fuller.end(), samples.begin(), samples.end()));
  std::vector<Key> added;
  std::set_difference(fuller.begin(), fuller.end(), samples.begin(), samples.end(),
                      std::back_inserter(added));
  std::vector<std::string> names;
  std::transform(added.begin(), added.end(), std::back_inserter(names),
                 [](Key key) { return note_name(key); });
  // By the rule, worked by hand: D2, A4, C5 and C6 stand one or two keys in from an end; octaves 1,
  // 3 and 7 have no such natural and take the G, three keys from the nearest sample. Octave 0 has A
  // and B only and octave 8 only C, all of them samples.
  EXPECT_THAT(names, ElementsAre("G1", "D2", "G3", "A4", "C5", "C6", "G7"));
  EXPECT_EQ(fuller.size(), 28U);
}

TEST(FillByHalves, SetsTheMiddleFirst) {
  const Section section{Key{20}, Key{28}, BreakKind::none};
  EXPECT_THAT(fill_by_halves(section, {Key{20}, Key{28}}),
              ElementsAre(Key{24}, Key{22}, Key{26}, Key{21}, Key{23}, Key{25}, Key{27}));
}

TEST(FillByHalves, GoesGapByGapFromTheBassUp) {
  const Section section{Key{20}, Key{26}, BreakKind::none};
  EXPECT_THAT(fill_by_halves(section, {Key{20}, Key{23}, Key{26}}),
              ElementsAre(Key{21}, Key{22}, Key{24}, Key{25}));
}

TEST(FillByHalves, TreatsEndsWithoutASampleAsGaps) {
  const Section section{Key{20}, Key{26}, BreakKind::none};
  EXPECT_THAT(fill_by_halves(section, {Key{24}}),
              ElementsAre(Key{21}, Key{20}, Key{22}, Key{23}, Key{25}, Key{26}));
  EXPECT_EQ(fill_by_halves(section, {}).size(), 7U);
  EXPECT_EQ(fill_by_halves(section, {}).front(), Key{23});
}

TEST(FillByHalves, WorksBelowTheStandardKeyboard) {
  const Section section{Key{-8}, Key{4}, BreakKind::none};
  EXPECT_EQ(fill_by_halves(section, {Key{-8}, Key{4}}).front(), Key{-2});
}

struct Case {
  Section section;
  std::vector<Key> samples;
};

Case any_case() {
  const int first = *rc::gen::inRange(-8, 80);
  const int last = first + *rc::gen::inRange(2, 97);
  // Reaching beyond the section on both sides: samples of other sections are ignored.
  const auto chosen = *rc::gen::container<std::set<int>>(rc::gen::inRange(first - 5, last + 6));
  Case result{{Key{first}, Key{last}, BreakKind::none}, {}};
  for (const int number : chosen) result.samples.push_back(Key{number});
  return result;
}

RC_GTEST_PROP(FillByHalves, GivesEveryOtherNoteExactlyOnce, ()) {
  const Case drawn = any_case();
  const Section& section = drawn.section;
  const std::vector<Key>& samples = drawn.samples;
  std::vector<Key> all = fill_by_halves(section, samples);
  std::copy_if(samples.begin(), samples.end(), std::back_inserter(all),
               [&](Key key) { return section.contains(key); });
  std::sort(all.begin(), all.end());
  RC_ASSERT(static_cast<int>(all.size()) == section.count());
  for (int i = 0; i < section.count(); ++i) {
    RC_ASSERT(all[static_cast<std::size_t>(i)].number == section.first.number + i);
  }
}

RC_GTEST_PROP(FillByHalves, SetsEachNoteInTheMiddleOfItsSetNeighbours, ()) {
  const auto [section, samples] = any_case();
  std::set<Key> set;
  for (const Key sample : samples) {
    if (section.contains(sample)) set.insert(sample);
  }
  RC_PRE(!set.empty());
  const Key lowest = *set.begin();
  const Key highest = *set.rbegin();
  for (const Key key : fill_by_halves(section, samples)) {
    const auto above = set.upper_bound(key);
    if (lowest < key && key < highest) {
      RC_ASSERT(above != set.end());
      // The middle one, or the lower of two middles.
      const int below = std::prev(above)->number;
      RC_ASSERT(key.number - below == (above->number - below) / 2);
    }
    set.insert(key);
  }
}

TEST(WorkingOrder, TakesAllSamplesThenEachSection) {
  const std::vector<Section> sections = layout();
  const std::vector<Key> samples = propose_samples(sections);
  const std::vector<Key> order = working_order(sections, samples);
  ASSERT_EQ(order.size(), 88U);
  EXPECT_TRUE(std::equal(samples.begin(), samples.end(), order.begin()));
  const auto begin = order.begin() + static_cast<std::ptrdiff_t>(samples.size());
  EXPECT_TRUE(std::is_sorted(begin, order.end(), [&](Key a, Key b) {
    return section_of(sections, a) < section_of(sections, b);
  })) << "one section after the other";
  EXPECT_EQ((std::set<Key>(order.begin(), order.end())).size(), 88U);
}

}  // namespace
}  // namespace batten

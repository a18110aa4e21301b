// Properties of undo over random journals, against the promise of fold.hpp written as plainly as it
// can be: by recursion over the definition, too slow for use.
#include "core/journal/fold.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <random>

namespace batten {
namespace {

Uuid id(std::size_t n) {
  Uuid made;
  made.bytes[14] = static_cast<std::uint8_t>(n >> 8U);
  made.bytes[15] = static_cast<std::uint8_t>(n & 255U);
  return made;
}

Entry reading(std::size_t n) {
  return {id(n), id(60000), static_cast<std::int64_t>(n), "",
          ReadingTaken{Reading::drop, Key{1}, static_cast<double>(n), 0.1, "", ""}};
}

// Entry i is a reading or an undo of an earlier one: no rings.
std::vector<Entry> journal_of(const std::vector<int>& picks) {
  std::vector<Entry> journal;
  for (std::size_t i = 0; i < picks.size(); ++i) {
    Entry entry = reading(i);
    if (i > 0 && picks[i] % 2 == 0) {
      entry.content = Undo{id(static_cast<std::size_t>(picks[i] / 2) % i)};
    }
    journal.push_back(std::move(entry));
  }
  return journal;
}

std::vector<Entry> any_journal() {
  return journal_of(*rc::gen::container<std::vector<int>>(rc::gen::inRange(0, 200)));
}

bool in_force_by_definition(const std::vector<Entry>& journal, const Entry& entry) {
  return std::none_of(journal.begin(), journal.end(), [&](const Entry& other) {
    const auto* undo = std::get_if<Undo>(&other.content);
    return undo != nullptr && undo->entry == entry.id && in_force_by_definition(journal, other);
  });
}

RC_GTEST_PROP(FoldProperties, AgreesWithTheDefinition, ()) {
  const std::vector<Entry> journal = any_journal();
  const std::vector<bool> force = in_force(journal);
  for (std::size_t i = 0; i < journal.size(); ++i) {
    RC_ASSERT(force[i] == in_force_by_definition(journal, journal[i]));
  }
}

RC_GTEST_PROP(FoldProperties, OrderDoesNotChangeWhatIsInForce, (std::uint32_t seed)) {
  const std::vector<Entry> journal = any_journal();
  std::vector<Entry> shuffled = journal;
  std::shuffle(shuffled.begin(), shuffled.end(), std::mt19937(seed));
  std::vector<Uuid> before;
  std::vector<Uuid> after;
  for (const Entry& entry : fold(journal).readings) before.push_back(entry.id);
  for (const Entry& entry : fold(shuffled).readings) after.push_back(entry.id);
  std::sort(after.begin(), after.end());
  RC_ASSERT(before == after);
}

RC_GTEST_PROP(FoldProperties, UndoOfTheLastInForceTakesItAndNothingElse, ()) {
  std::vector<Entry> journal = any_journal();
  const std::optional<Entry> last = last_in_force(journal);
  RC_PRE(last.has_value());
  const std::vector<Entry> before = fold(journal).readings;
  Entry undo = reading(journal.size());
  undo.content = Undo{last->id};
  journal.push_back(undo);
  std::vector<Entry> wanted = before;
  wanted.pop_back();
  RC_ASSERT(before.back() == *last);
  RC_ASSERT(fold(journal).readings == wanted);

  Entry redo = reading(journal.size());
  redo.content = Undo{undo.id};
  journal.push_back(redo);
  RC_ASSERT(fold(journal).readings == before);
}

RC_GTEST_PROP(FoldProperties, ReadingTheJournalTwiceChangesNothing, ()) {
  const std::vector<Entry> journal = any_journal();
  std::vector<Entry> twice = journal;
  twice.insert(twice.end(), journal.begin(), journal.end());
  RC_ASSERT(fold(twice) == fold(journal));
}

RC_GTEST_PROP(FoldProperties, IdentitiesSurviveTheirText, (std::array<std::uint8_t, 16> bytes)) {
  RC_ASSERT(parse_uuid(to_text(Uuid{bytes})).value() == Uuid{bytes});
}

// A chain of undos as long as a lifetime's journal: no recursion, no quadratic time.
TEST(FoldProperties, AVeryLongChainOfUndosIsDecided) {
  std::vector<Entry> journal{reading(0)};
  for (std::size_t i = 1; i < 65000; ++i) {
    journal.push_back(reading(i));
    journal.back().content = Undo{id(i - 1)};
  }
  // 64999 undos above the reading: the last is in force, and every second down from it.
  EXPECT_TRUE(fold(journal).readings.empty());
  journal.pop_back();
  EXPECT_EQ(fold(journal).readings.size(), 1U);
}

}  // namespace
}  // namespace batten

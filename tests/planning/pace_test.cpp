// The pace from time stamps: expectations are worked from the formula in the header.
#include "core/regulation/planning/pace.hpp"

#include "workshop/chance.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>

namespace batten {
namespace {

using enum Adjuster;

class Journal {
 public:
  Journal& move(double after_minutes, Adjuster adjuster = capstan, std::string who = "a") {
    return write(after_minutes, MoveMade{adjuster, Key{40}, 0.1, ""}, std::move(who));
  }
  Journal& read(double after_minutes, Reading reading, std::string who = "a") {
    return write(after_minutes, ReadingTaken{reading, Key{40}, 1, 0.1, "", ""}, std::move(who));
  }
  Journal& next_visit() {
    visit_.bytes[0]++;
    return *this;
  }
  Paces paces(const std::string& who = {}) const {
    const auto catalogue = working_catalogue({});
    return learn_paces(fold(entries_), *catalogue, who);
  }

 private:
  Journal& write(double after_minutes, EntryContent content, std::string who) {
    now_ += std::llround(after_minutes * 60000);
    Entry e;
    e.id.bytes[0] = static_cast<std::uint8_t>(entries_.size() % 256);
    e.id.bytes[1] = static_cast<std::uint8_t>(entries_.size() / 256);
    e.visit = visit_;
    e.at_ms = now_;
    e.who = std::move(who);
    e.content = std::move(content);
    entries_.push_back(std::move(e));
    return *this;
  }

  std::vector<Entry> entries_;
  std::int64_t now_ = 1'700'000'000'000;
  Uuid visit_;
};

double guess_of(Adjuster adjuster) { return working_catalogue({})->labour(adjuster).minutes_move; }

// Guess weighs 8 gaps.
double blended(double guess, int count, double learned) {
  return std::exp((8 * std::log(guess) + count * std::log(learned)) / (8 + count));
}

TEST(Pace, IsTheFirstGuessWhereNothingWasDone) {
  const Paces paces = Journal().paces();
  for (const AdjusterKind& kind : adjuster_kinds()) {
    EXPECT_EQ(paces.move(kind.id), (Pace{guess_of(kind.id), 0}));
  }
  const auto catalogue = working_catalogue({});
  EXPECT_EQ(paces.reading(Reading::blow), (Pace{catalogue->minutes_to_read(Reading::blow), 0}));
}

TEST(Pace, BlendsTheMedianGapWithTheGuessByCount) {
  Journal journal;
  journal.move(0).move(2).move(1).move(6).move(1.5).move(1);  // median 1.5
  const Pace pace = journal.paces().move(capstan);
  EXPECT_EQ(pace.from, 5);
  EXPECT_NEAR(pace.minutes, blended(guess_of(capstan), 5, 1.5), 1e-9);
  journal.move(1);  // of six: half way between 1 and 1.5
  EXPECT_NEAR(journal.paces().move(capstan).minutes, blended(guess_of(capstan), 6, 1.25), 1e-9);
}

TEST(Pace, LeavesOutPausesBatchesAndBackwardClocks) {
  Journal journal;
  journal.move(0).move(1).move(8.1).move(1).move(0).move(0.01).move(-3).move(1);
  const Pace pace = journal.paces().move(capstan);
  EXPECT_EQ(pace.from, 3);
  EXPECT_NEAR(pace.minutes, blended(guess_of(capstan), 3, 1), 1e-9);
}

TEST(Pace, CountsAGapForWhatTheLaterEntryIs) {
  Journal journal;
  journal.move(0).read(2, Reading::blow).move(1).read(2, Reading::blow).move(1);
  EXPECT_EQ(journal.paces().move(capstan).from, 2);
  EXPECT_NEAR(journal.paces().move(capstan).minutes, blended(guess_of(capstan), 2, 1), 1e-9);
  EXPECT_EQ(journal.paces().reading(Reading::blow).from, 2);
  // Aftertouch is set by front punchings, not by let-off buttons.
  Journal other;
  other.move(0, front_punchings).read(1, Reading::aftertouch).move(1, let_off_button);
  EXPECT_EQ(other.paces().reading(Reading::aftertouch).from, 1);
  EXPECT_EQ(other.paces().move(let_off_button).from, 0);
}

TEST(Pace, NeitherVisitsNorPeopleWaitForEachOther) {
  Journal journal;
  journal.move(0).next_visit().move(1).move(1);
  EXPECT_EQ(journal.paces().move(capstan).from, 1);
  Journal two;
  two.move(0).move(1, capstan, "b").move(1).move(1, capstan, "b");
  EXPECT_EQ(two.paces().move(capstan).from, 2);
  EXPECT_NEAR(two.paces().move(capstan).minutes, blended(guess_of(capstan), 2, 2), 1e-9);
  EXPECT_EQ(two.paces("b").move(capstan).from, 1);
  EXPECT_EQ(two.paces("c").move(capstan).from, 0);
}

// A hand of 0.9 minutes, spread a third, that stops to think every fifth time: the median of 88
// moves is known to about 1.25 × 0.33 / √88 = 4 % (closed form for the median of a normal), the
// odd fifth draws it up by about a tenth (its 0.625 quantile), the guess toward itself.
TEST(Pace, ComesNearAHandThatStopsNowAndThen) {
  double worst = 0;
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    workshop::Chance chance(seed);
    Journal journal;
    for (int i = 0; i < 89; ++i) {
      const double pause = chance.between(0, 4) == 0 ? 4 : 0;
      journal.move(pause + 0.9 * std::exp(0.33 * chance.normal()));
    }
    worst = std::max(worst, std::fabs(std::log(journal.paces().move(capstan).minutes / 0.9)));
  }
  EXPECT_LT(worst, 0.25);
}

}  // namespace
}  // namespace batten

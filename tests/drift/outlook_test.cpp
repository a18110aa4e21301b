// What an outlook says and where it keeps silent.
#include "core/journal/fold.hpp"
#include "core/regulation/drift/drift.hpp"
#include "workshop/aging.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

workshop::AgedPast past(int visits, std::uint64_t seed = 5) {
  workshop::PastWanted wanted;
  wanted.visits = visits;
  return workshop::live(workshop::AgingLaw::as_believed, seed, wanted);
}

Outlook outlook(const workshop::AgedPast& p, DriftOptions options = {}) {
  if (options.from_ms == 0) options.from_ms = p.end_ms;
  const auto made = calc_outlook(p.piano.compass(), fold(p.entries), options);
  EXPECT_TRUE(made);
  return made ? *made : Outlook{};
}

TEST(Outlook, WithoutReadingsThereIsNoDate) {
  const auto made = calc_outlook(Compass{}, Standing{}, {});
  ASSERT_TRUE(made);
  EXPECT_EQ(made->due.state, DueState::unknown);
  EXPECT_TRUE(made->readings.empty());
  EXPECT_EQ(made->known_from.visits, 0);
}

TEST(Outlook, OneVisitSaysHowLittleItKnows) {
  const Outlook one = outlook(past(1)), four = outlook(past(4));
  EXPECT_EQ(one.known_from.visits, 1);
  EXPECT_EQ(one.known_from.pairs, 0);
  EXPECT_NEAR(one.known_from.learned, 0, 1e-9);
  EXPECT_EQ(four.known_from.visits, 4);
  EXPECT_GT(four.known_from.pairs, 1000);
  EXPECT_GT(four.known_from.learned, 0.25);
  // What wood does to a key is known less well before it has been seen to do it.
  const auto season_sd = [](const Outlook& o) {
    const auto r = std::ranges::find(o.readings, Reading::key_height, &OutlookReading::reading);
    return r->causes[1].sd / std::max(1e-9, std::abs(r->causes[1].mean));
  };
  EXPECT_GT(season_sd(one), season_sd(four));
}

TEST(Outlook, SharesAreSharesAndBandsHoldThem) {
  const Outlook o = outlook(past(3));
  ASSERT_EQ(o.points.size(), 25u);
  EXPECT_EQ(o.points.front().day, 0);
  EXPECT_NEAR(o.points[12].day, 365.2425, 1e-6);
  EXPECT_EQ(o.points[12].at_ms, o.from_ms + std::llround(o.points[12].day * 86400000));
  const auto hold = [](const std::vector<OutlookPoint>& points) {
    for (const OutlookPoint& p : points) {
      EXPECT_GE(p.low, 0);
      EXPECT_LE(p.low, p.share);
      EXPECT_LE(p.share, p.high);
      EXPECT_LE(p.high, 1);
      EXPECT_GE(p.chance_over_limit, 0);
      EXPECT_LE(p.chance_over_limit, 1);
    }
  };
  hold(o.points);
  double notes = 0;
  for (const OutlookReading& r : o.readings) {
    notes += r.notes;
    EXPECT_EQ(r.causes[0].cause, DriftCause::playing_in);
    EXPECT_EQ(r.causes[3].cause, DriftCause::wander);
  }
  EXPECT_EQ(o.known, notes);
  EXPECT_EQ(o.notes.size(), static_cast<std::size_t>(o.known));
  for (const OutlookNote& n : o.notes) {
    EXPECT_GT(n.now_sd, 0);
    EXPECT_GE(n.outside_now, 0);
    EXPECT_LE(n.outside_now, 1 + 1e-9);
  }
  // The same every time.
  EXPECT_EQ(outlook(past(3)).due.day, o.due.day);
}

TEST(Outlook, AHigherLimitIsALaterDate) {
  const workshop::AgedPast p = past(4);
  double last = -1;
  for (const double limit : {0.05, 0.08, 0.12, 0.16}) {
    DriftOptions options;
    options.limit = limit;
    options.months = 60;
    const Outlook o = outlook(p, options);
    EXPECT_EQ(o.limit, limit);
    if (o.due.state == DueState::beyond) break;
    const double day = o.due.day.value_or(0);
    EXPECT_GE(day, last);
    if (o.due.day) {
      EXPECT_EQ(o.due.state, DueState::due_at);
      EXPECT_LE(o.due.low_day.value_or(0), day);
      EXPECT_GE(o.due.high_day.value_or(1e9), day);
    }
    last = day;
  }
  EXPECT_GT(last, 0);
  DriftOptions low;
  low.limit = 0.01;
  EXPECT_EQ(outlook(p, low).due.state, DueState::overdue);
  DriftOptions high;
  high.limit = 0.9;
  EXPECT_EQ(outlook(p, high).due.state, DueState::beyond);
}

TEST(Outlook, TheLimitOfThePianoHolds) {
  workshop::AgedPast p = past(2);
  Entry e = p.entries.front();
  e.id.bytes[0] = 9;
  e.content = SettingChosen{"return-limit", "12 %"};
  p.entries.push_back(e);
  EXPECT_EQ(outlook(p).limit, 0.12);
  DriftOptions asked;
  asked.limit = 0.3;
  EXPECT_EQ(outlook(p, asked).limit, 0.3);
}

TEST(Outlook, WhatComesAfterTodayIsNotKnown) {
  const workshop::AgedPast p = past(3);
  std::int64_t before = 0;
  for (const Entry& e : p.entries)
    if (e.visit != p.entries.back().visit) before = std::max(before, e.at_ms);
  DriftOptions options;
  options.from_ms = before;
  EXPECT_EQ(outlook(p, options).known_from.visits, 2);
}

TEST(Outlook, WhatCannotBeAskedIsRefused) {
  DriftOptions options;
  options.months = 0;
  EXPECT_FALSE(calc_outlook(Compass{}, Standing{}, options));
  options.months = 61;
  EXPECT_FALSE(calc_outlook(Compass{}, Standing{}, options));
  options.months = 24;
  options.limit = 1.0;
  EXPECT_FALSE(calc_outlook(Compass{}, Standing{}, options));
  Standing bad;
  bad.settings["climate"] = "damp";
  EXPECT_FALSE(calc_outlook(Compass{}, bad, {}));
}

FirstChecks checks(const workshop::AgedPast& p, Spell spell,
                   const std::vector<std::string>& listed = {}) {
  DriftOptions options;
  options.from_ms = p.end_ms;
  const auto made = calc_first_checks(p.piano.compass(), fold(p.entries), spell, options, listed);
  EXPECT_TRUE(made);
  return made ? *made : FirstChecks{};
}

TEST(FirstChecks, DryAndWetGoOppositeWays) {
  const workshop::AgedPast p = past(3);
  const FirstChecks dry = checks(p, Spell::dry), wet = checks(p, Spell::wet);
  EXPECT_LT(dry.moisture, 0);
  EXPECT_GT(wet.moisture, 0);
  ASSERT_FALSE(dry.checks.empty());
  for (const FirstCheck& c : dry.checks) {
    const auto same = std::ranges::find(wet.checks, c.reading, &FirstCheck::reading);
    ASSERT_NE(same, wet.checks.end());
    EXPECT_NEAR(c.change, -same->change, 1e-9);
  }
  // A key front stands on wood across the grain; sharps are read over naturals on the same wood.
  const auto key = std::ranges::find(dry.checks, Reading::key_height, &FirstCheck::reading);
  ASSERT_NE(key, dry.checks.end());
  EXPECT_LT(key->change, 0);
}

TEST(FirstChecks, TheMostComesFirstWithNotesToRead) {
  for (const Spell spell : {Spell::dry, Spell::wet, Spell::heavy_use, Spell::new_felt}) {
    const FirstChecks f = checks(past(2), spell);
    EXPECT_FALSE(f.checks.empty()) << code_of(spell);
    for (std::size_t i = 0; i < f.checks.size(); ++i) {
      if (i > 0) {
        EXPECT_LE(f.checks[i].in_tolerances, f.checks[i - 1].in_tolerances);
      }
      EXPECT_GE(f.checks[i].in_tolerances, 0.1);
      EXPECT_FALSE(f.checks[i].notes.empty());
      EXPECT_LE(f.checks[i].notes.size(), 5u);
    }
  }
}

TEST(FirstChecks, APianoNobodyHasReadIsLookedAtTheSame) {
  DriftOptions options;
  const auto f = calc_first_checks(Compass{}, Standing{}, Spell::dry, options);
  ASSERT_TRUE(f);
  EXPECT_FALSE(f->checks.empty());
}

TEST(FirstChecks, ListsAreTheUsersOwnOrOurs) {
  const workshop::AgedPast p = past(1);
  const FirstChecks ours = checks(p, Spell::transport);
  EXPECT_TRUE(ours.listed_is_ours);
  EXPECT_EQ(ours.listed.front(), "drift.list.transport.1");
  EXPECT_TRUE(ours.checks.empty());
  const FirstChecks own = checks(p, Spell::new_hammers, {"look twice"});
  EXPECT_FALSE(own.listed_is_ours);
  EXPECT_EQ(own.listed, std::vector<std::string>{"look twice"});
  EXPECT_EQ(spell_by_code("new-hammers"), Spell::new_hammers);
  EXPECT_FALSE(spell_by_code("flood"));
}

}  // namespace
}  // namespace batten

// The studio's list and a day's plan over a store, from outlooks kept and made.
#include "app/studio_job.hpp"

#include "app/entries.hpp"
#include "app/readings.hpp"
#include "app/shop_settings.hpp"
#include "app/studio_memo.hpp"
#include "tests/app/desk_fixture.hpp"
#include "workshop/demo.hpp"

#include <algorithm>
#include <gmock/gmock.h>

namespace batten {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

constexpr std::int64_t day = 86'400'000;

class Studio : public DeskTest {
 protected:
  Studio() {
    desk_.now_ms = [this] { return now_; };
  }

  // A piano as if its outlook had been made today: due in so many days, or overdue from 0 on.
  Piano piano(const std::string& name, const std::string& place, double due_in, double minutes,
              double worth) {
    const Piano made = *add_piano(desk_, {name, place, Compass{}, ""});
    StudioMemo memo;
    memo.from_ms = now_;
    memo.last_done_ms = now_ - 100 * day;
    memo.known = 20;
    memo.due = due_in <= 0 ? DueState::overdue : DueState::due_at;
    if (due_in > 0) memo.due_ms = now_ + static_cast<std::int64_t>(due_in) * day;
    memo.worst = Reading::let_off;
    memo.minutes_now = minutes;
    memo.minutes_at_return = minutes + 10;
    memo.worth = worth;
    memo.shares = {{now_, 0.1}, {now_ + 100 * day, 0.3}};
    keep(made, memo);
    return made;
  }
  void keep(const Piano& p, const StudioMemo& memo) {
    const std::vector<KeptOutlook> one{
        {p.id, *desk_.store.revision(p.id), memo_model({}), print_memo(memo)}};
    desk_.store.keep_outlooks(one);
  }
  StudioList list() { return *studio_list(desk_); }
  static std::vector<std::string> names(const StudioList& list) {
    std::vector<std::string> all;
    for (const StudioPiano& p : list.pianos) all.push_back(p.piano.name);
    return all;
  }
  const StudioPiano& find(const StudioList& list, const std::string& name) {
    return *std::ranges::find_if(list.pianos,
                                 [&](const StudioPiano& p) { return p.piano.name == name; });
  }

  std::int64_t now_ = 1'795'000'000'000;
};

TEST(StudioMemo, IsTheSameFromItsText) {
  StudioMemo memo;
  memo.from_ms = 1'795'000'000'000;
  EXPECT_EQ(parse_memo(print_memo(memo)), memo);
  memo.last_done_ms = 5;
  memo.due = DueState::due_at;
  memo.due_ms = 7;
  memo.low_ms = -3;
  memo.known = 12;
  memo.worst = Reading::damper_start;
  memo.minutes_now = 61.25;
  memo.minutes_at_return = 75;
  memo.worth = 4.5;
  memo.shares = {{1, 0.125}, {2, 0.25}};
  EXPECT_EQ(parse_memo(print_memo(memo)), memo);
}

TEST(StudioMemo, RefusesWhatAnotherHandWrote) {
  const std::string good = print_memo([] {
    StudioMemo m;
    m.shares = {{1, 0.125}, {2, 0.25}};
    return m;
  }());
  ASSERT_TRUE(parse_memo(good));
  for (std::size_t cut = 0; cut < good.size() - 4; ++cut)
    EXPECT_FALSE(parse_memo(good.substr(0, cut)) == parse_memo(good)) << cut;
  EXPECT_FALSE(parse_memo(""));
  EXPECT_FALSE(parse_memo(good + " 7"));
  EXPECT_FALSE(parse_memo("{\"due\": 1}"));
  EXPECT_FALSE(parse_memo("1 - soon - - - 0 - 0 0 0 0"));
  EXPECT_FALSE(parse_memo("1 - unknown - - - 0 - 0 0 0 99999999999"));
  EXPECT_FALSE(parse_memo("1 - unknown - - - 0 - 0 0 0 2 5 0.1 5 0.2"));  // times must rise
}

TEST(StudioMemo, SharesAreStraightBetween) {
  StudioMemo memo;
  EXPECT_FALSE(memo.share_at(1));
  memo.shares = {{100, 0.1}, {200, 0.3}};
  EXPECT_DOUBLE_EQ(*memo.share_at(50), 0.1);
  EXPECT_DOUBLE_EQ(*memo.share_at(150), 0.2);
  EXPECT_DOUBLE_EQ(*memo.share_at(900), 0.3);
}

TEST_F(Studio, ListsWhatIsDueFirst) {
  piano("later", "", 200, 60, 5);
  piano("overdue", "", 0, 60, 5);
  piano("soon", "", 10, 60, 5);
  const StudioList all = list();
  // The fixture's own piano has no readings: unknown, last.
  EXPECT_THAT(names(all), ElementsAre("overdue", "soon", "later", piano_.name));
  EXPECT_EQ(all.pianos.back().due, DueState::unknown);
  EXPECT_FALSE(all.pianos.back().minutes);
  EXPECT_FALSE(all.pianos.back().share_now);
  // At the return: between the shares kept.
  EXPECT_DOUBLE_EQ(*find(all, "soon").share_at_return, 0.12);
  EXPECT_DOUBLE_EQ(*find(all, "soon").minutes, 70);
  EXPECT_DOUBLE_EQ(*find(all, "overdue").minutes, 60);
}

TEST_F(Studio, TheDayComes) {
  piano("soon", "", 10, 60, 5);
  EXPECT_EQ(find(list(), "soon").due, DueState::due_at);
  now_ += 11 * day;
  const StudioList later = list();
  EXPECT_EQ(find(later, "soon").due, DueState::overdue);
  EXPECT_DOUBLE_EQ(*find(later, "soon").minutes, 60);
  EXPECT_NEAR(*find(later, "soon").share_now, 0.122, 1e-9);
  EXPECT_EQ(later.reckoned, 0U);
}

TEST_F(Studio, ReckonsOnlyWhatHasChanged) {
  const Piano demo = *workshop::build_demo(desk_);
  const StudioList first = list();
  EXPECT_EQ(first.reckoned, 2U);
  const StudioList again = list();
  EXPECT_EQ(again.reckoned, 0U);
  ASSERT_EQ(again.pianos.size(), first.pianos.size());
  const StudioPiano &a = first.pianos.front(), &b = again.pianos.front();
  EXPECT_EQ(a.piano.name, demo.name);
  EXPECT_EQ(a.due, b.due);
  EXPECT_EQ(a.due_ms, b.due_ms);
  EXPECT_EQ(a.minutes, b.minutes);
  EXPECT_EQ(a.worth, b.worth);
  EXPECT_EQ(a.visits, 5);
  EXPECT_GT(*a.minutes, 60);
  EXPECT_LT(*a.minutes, 600);
  EXPECT_TRUE(a.worst);

  ASSERT_TRUE(take_reading(desk_, demo, {"let-off", "C4", "2.4", {}, {}}));
  EXPECT_EQ(list().reckoned, 1U);  // another journal
  ASSERT_TRUE(choose_for_shop(desk_, "return-limit", "45 %"));
  EXPECT_EQ(list().reckoned, 2U);  // another limit
  EXPECT_EQ(list().reckoned, 0U);
  now_ += 32 * day;
  EXPECT_EQ(list().reckoned, 2U);  // kept too long
  now_ -= 40 * day;
  EXPECT_EQ(list().reckoned, 2U);  // from the future
}

TEST_F(Studio, WhatIsKeptIsNotMade) {
  workshop::build_demo(desk_).value();
  EXPECT_TRUE(studio_list_kept(desk_)->pianos.empty());
  list();
  EXPECT_EQ(studio_list_kept(desk_)->pianos.size(), 2U);
}

TEST_F(Studio, SettingsThatCannotBeReadMakeOneUnknown) {
  const Piano odd = *add_piano(desk_, {"odd", "", Compass{}, ""});
  ASSERT_TRUE(batten::keep(desk_, odd,
                           {SettingChosen{"sections", "no such note"},
                            ReadingTaken{Reading::dip, Key{40}, 10, 0.1, "", "10"}}));
  EXPECT_EQ(find(list(), "odd").due, DueState::unknown);
}

TEST_F(Studio, PlansADay) {
  const Piano hall = piano("hall", "Arts centre", 0, 200, 90);
  piano("school 1", "School", 0, 60, 20);
  piano("school 2", "School", 20, 60, 18);
  piano("home", "", 5, 60, 3);
  piano("far off", "", 90, 60, 500);
  piano("ruin", "", 0, 700, 900);
  const StudioList all = list();
  const auto plan = studio_day(all, {6, {}});
  ASSERT_TRUE(plan) << plan.error().sentence();
  std::vector<std::string> stops, why;
  for (const StudioStop& s : plan->stops) {
    stops.push_back(all.pianos[s.piano].piano.name);
    why.emplace_back(code_of(s.why));
  }
  // Alone the hall and one of the school fill 25 + 200 + 25 + 60 = 310 of 360 minutes; the other of
  // the school (due in three weeks: 70) would make 388.
  EXPECT_THAT(stops, ElementsAre("hall", "school 1"));
  EXPECT_THAT(why, ElementsAre("overdue", "overdue"));
  EXPECT_DOUBLE_EQ(plan->minutes, 310);
  std::vector<std::string> left;
  for (const StudioLeftOut& l : plan->left_out)
    left.push_back(all.pianos[l.piano].piano.name + " " + std::string(code_of(l.why)));
  EXPECT_THAT(left, testing::UnorderedElementsAre("school 2 less-worth", "home less-worth",
                                                  "far off not-due", "ruin too-long",
                                                  piano_.name + " unread"));

  // One that is promised comes first, though it is due late and worth little.
  const auto promised = studio_day(all, {6, {find(all, "home").piano.id, piano_.id}});
  ASSERT_TRUE(promised);
  EXPECT_EQ(all.pianos[promised->stops[0].piano].piano.name, "home");
  EXPECT_EQ(code_of(promised->stops[0].why), "fixed");
  EXPECT_EQ(all.pianos[promised->stops[1].piano].piano.name, piano_.name);
  EXPECT_FALSE(studio_day(all, {1, {hall.id}}));
  EXPECT_FALSE(studio_day(all, {6, {Uuid{}}}));
  EXPECT_FALSE(studio_day(all, {0, {}}));
}

TEST(StudioHours, AreReadAsTyped) {
  EXPECT_DOUBLE_EQ(parse_hours("6").value(), 6);
  EXPECT_DOUBLE_EQ(parse_hours("6,5").value(), 6.5);
  EXPECT_DOUBLE_EQ(parse_hours("6 h 30").value(), 6.5);
  EXPECT_DOUBLE_EQ(parse_hours("90 min").value(), 1.5);
  for (const char* bad : {"", "0", "25", "-1", "soon", "6 mm"})
    EXPECT_FALSE(parse_hours(bad)) << bad;
}

// RFC 5545, section 3.6.1 and 3.3.4: a day is DTSTART;VALUE=DATE:yyyymmdd. That the whole is well
// formed is asked of another library where the writer is tested.
TEST_F(Studio, DaysGoIntoACalendar) {
  const Piano soon = piano("Flügel, groß", "Aula", 10, 60, 5);
  piano("overdue", "", 0, 60, 5);
  const StudioList all = list();
  const std::string english = *due_calendar(all, Language::english);
  const auto count = [](const std::string& text, const std::string& what) {
    std::size_t n = 0;
    for (std::size_t i = text.find(what); i != std::string::npos; i = text.find(what, i + 1)) ++n;
    return n;
  };
  EXPECT_EQ(count(english, "BEGIN:VEVENT"), 2U);
  EXPECT_THAT(english, HasSubstr("UID:next-visit-" + to_text(soon.id)));
  // 1,795,000,000 s: 18 November 2026, 11:06 UTC; ten days later the 28th.
  EXPECT_THAT(english, HasSubstr("DTSTART;VALUE=DATE:20261128"));
  EXPECT_THAT(english, HasSubstr("DTSTART;VALUE=DATE:20261118"));
  EXPECT_THAT(english, HasSubstr("SUMMARY;LANGUAGE=en:Flügel\\, groß: regulation due"));
  const std::string german = *due_calendar(all, Language::german, soon.id);
  EXPECT_EQ(count(german, "BEGIN:VEVENT"), 1U);
  EXPECT_THAT(german, HasSubstr("Regulierung fällig"));
  EXPECT_THAT(german, Not(HasSubstr("regulation")));
  EXPECT_FALSE(due_calendar(all, Language::english, piano_.id));
}

}  // namespace
}  // namespace batten

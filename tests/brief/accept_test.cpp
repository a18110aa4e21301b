// An accepted brief becomes targets that work.
#include "core/regulation/brief/words.hpp"
#include "tasks.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace batten {
namespace {

using checks::Settings;
using checks::stored;
using checks::task_of;

Settings with(Settings settings, const std::vector<BriefSetting>& more) {
  for (const BriefSetting& s : more) settings[s.name] = s.value;
  return settings;
}

TEST(Accept, SettingsWorkWhenReadBack) {
  const Settings sheet{{"dip-target", "9.4"}, {"sharp-dip-target", "9.1"}};
#ifdef BATTEN_SLOW_BUILD
  const std::vector<std::string> keys{"C4", "F#4"};
#else
  const std::vector<std::string> keys{"A1", "C4", "F#4", "C7"};
#endif
  const auto brief = calc_brief(task_of(stored("medium"), sheet, keys));
  ASSERT_TRUE(brief.has_value());
  ASSERT_FALSE(brief->works());
  const auto settings = accept_brief(*brief, cheapest(*brief), "Agreed with the owner.");
  ASSERT_FALSE(settings.empty());
  for (const BriefSetting& s : settings) {
    EXPECT_TRUE(is_target_setting(s.name)) << s.name;
    EXPECT_TRUE(
        check_target_setting(brief->compass, brief->targets.sections, s.name, s.value).has_value())
        << s.value;
    EXPECT_NE(s.reason.find("Agreed with the owner."), std::string::npos);
  }
  // Straight between registers and rounded to a hundredth: a hundredth or two of aftertouch.
  auto after = task_of(stored("medium"), with(sheet, settings), keys);
  after.wishes.needs[index_of(Need::aftertouch)].low -= 0.03;
  const auto again = calc_brief(after);
  ASSERT_TRUE(again.has_value());
  EXPECT_TRUE(again->works()) << brief_words(*again);
}

// One change serves all naturals here, so that the line does not wander: the targets stay parallel
// to the sheet's.
TEST(Accept, OneChangeForAll) {
#ifdef BATTEN_SLOW_BUILD
  GTEST_SKIP()
      << "a note costs ten times as much under the sanitizers; the same code runs elsewhere";
#endif
  const auto brief =
      calc_brief(task_of(stored("medium"), {{"dip-target", "9.4"}}, {"A1", "C4", "F#4", "C7"}));
  ASSERT_TRUE(brief.has_value());
  std::vector<BriefPoint> changes;
  double cost = 0, own = 0;
  for (const RegisterBrief& r : brief->registers) {
    const Departure* least = checks::departure_by(r, Way::least);
    if (is_sharp(r.where.key)) continue;
    ASSERT_NE(least, nullptr);
    EXPECT_TRUE(least->figures.works());
    changes.push_back(least->by);
    cost += least->cost;
    own += checks::departure_by(r, Way::dip)->cost;
  }
  ASSERT_EQ(changes.size(), 3U);
  EXPECT_EQ(changes[0], changes[1]);
  EXPECT_EQ(changes[1], changes[2]);
  EXPECT_LT(cost, 1.5 * own);
}

TEST(Accept, NothingChosenNothingChanged) {
#ifdef BATTEN_SLOW_BUILD
  GTEST_SKIP()
      << "a note costs ten times as much under the sanitizers; the same code runs elsewhere";
#endif
  const auto brief =
      calc_brief(task_of(stored("medium"), {{"dip-target", "9.4"}}, {"A1", "C4", "C7"}));
  ASSERT_TRUE(brief.has_value());
  EXPECT_TRUE(accept_brief(*brief, BriefChoice(3), "").empty());
}

// Without a sharp register the sharps' dip follows the naturals'.
TEST(Accept, SharpsFollow) {
  const auto brief = calc_brief(
      task_of(stored("medium"), {{"dip-target", "9.5"}, {"sharp-dip-target", "9.2"}}, {"C4"}));
  ASSERT_TRUE(brief.has_value());
  const RegisterBrief& r = brief->registers[0];
  const Departure* dip = checks::departure_by(r, Way::dip);
  ASSERT_NE(dip, nullptr);
  const auto settings =
      accept_brief(*brief, {static_cast<std::size_t>(dip - r.departures.data())}, "");
  ASSERT_EQ(settings.size(), 2U);
  EXPECT_EQ(settings[0].name, "dip-target");
  EXPECT_EQ(settings[1].name, "sharp-dip-target");
  const auto targets = targets_on_record(
      brief->compass, brief->targets.sections,
      {{settings[0].name, settings[0].value}, {settings[1].name, settings[1].value}});
  ASSERT_TRUE(targets.has_value());
  EXPECT_NEAR(*targets->at(Aim::dip, *parse_key("F#4")), 9.2 + dip->by.dip, 0.011);
}

}  // namespace
}  // namespace batten

// The catalogue of one piano: the tables under what is on record; a refusal names the setting and
// says what to write. The grammar is that of working.hpp; there is no outside source for it.
#include "core/regulation/catalogue/working.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <map>
#include <set>
#include <string>

namespace batten {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::StartsWith;

WorkingCatalogue with(const std::map<std::string, std::string>& on_record) {
  const auto working = working_catalogue(on_record);
  EXPECT_TRUE(working) << (working ? "" : working.error().sentence());
  for (const auto& [name, value] : on_record) {
    EXPECT_TRUE(is_catalogue_setting(name)) << name;
    EXPECT_TRUE(check_catalogue_setting(name, value)) << name;
  }
  return working.value_or(WorkingCatalogue{});
}

void refused(const std::string& name, const std::string& value) {
  SCOPED_TRACE(name + " = \"" + value + "\"");
  const auto on_record = working_catalogue({{name, value}});
  const auto alone = check_catalogue_setting(name, value);
  ASSERT_FALSE(on_record);
  ASSERT_FALSE(alone);
  EXPECT_EQ(on_record.error(), alone.error());
  EXPECT_THAT(alone.error().happened, StartsWith("Setting " + name + ": "));
  EXPECT_FALSE(alone.error().todo.empty()) << alone.error().happened;
}

TEST(WorkingCatalogue, IsTheTablesUnlessSomethingIsOnRecord) {
  const WorkingCatalogue w = with({});
  EXPECT_EQ(w.grade, Grade::house);
  ASSERT_EQ(w.tolerances.size(), reading_kinds().size());
  ASSERT_EQ(w.labours.size(), adjuster_kinds().size());
  for (const ReadingKind& kind : reading_kinds()) {
    const auto tolerance = w.tolerance(kind.id);
    ASSERT_EQ(tolerance.has_value(), kind.tolerance_absolute.has_value()) << kind.code;
    EXPECT_EQ(w.minutes_to_read(kind.id), kind.minutes) << kind.code;
    EXPECT_EQ(w.usual_uncertainty(kind.id), kind.usual_uncertainty) << kind.code;
    if (!tolerance) continue;
    EXPECT_EQ(tolerance->absolute, *kind.tolerance_absolute) << kind.code;
    EXPECT_EQ(tolerance->neighbours, kind.tolerance_neighbours.value_or(*kind.tolerance_absolute))
        << kind.code;
  }
  for (const AdjusterKind& kind : adjuster_kinds()) {
    const Labour& labour = w.labour(kind.id);
    EXPECT_EQ(labour.minutes_move, kind.minutes_move) << kind.code;
    EXPECT_EQ(labour.minutes_set_up, kind.minutes_set_up) << kind.code;
    EXPECT_EQ(labour.least_step, kind.hand_step) << kind.code;
    EXPECT_EQ(labour.most_each_way, kind.limit) << kind.code;
    EXPECT_EQ(labour.strain, kind.strain) << kind.code;
  }
  // From memory.
  EXPECT_THAT(w.papers, ElementsAre(0.05, 0.08, 0.13, 0.18, 0.25, 0.4, 0.5, 0.8, 1.0));
}

TEST(WorkingCatalogue, AGradeScalesEveryToleranceOfTheTablesAndNoOther) {
  const WorkingCatalogue house = with({{"grade", "house"}});
  const WorkingCatalogue stage = with({{"grade", "stage"}, {"dip-tolerance", "0.3, 0.2"}});
  const WorkingCatalogue lesson = with({{"grade", "lesson"}, {"dip-tolerance", "0.3, 0.2"}});
  EXPECT_EQ(stage.grade, Grade::stage);
  EXPECT_EQ(lesson.grade, Grade::lesson);
  for (const ReadingKind& kind : reading_kinds()) {
    const auto base = house.tolerance(kind.id);
    if (!base || kind.id == Reading::dip) continue;
    EXPECT_DOUBLE_EQ(stage.tolerance(kind.id)->absolute, 0.8 * base->absolute) << kind.code;
    EXPECT_DOUBLE_EQ(stage.tolerance(kind.id)->neighbours, 0.8 * base->neighbours) << kind.code;
    EXPECT_DOUBLE_EQ(lesson.tolerance(kind.id)->absolute, 1.5 * base->absolute) << kind.code;
    EXPECT_DOUBLE_EQ(lesson.tolerance(kind.id)->neighbours, 1.5 * base->neighbours) << kind.code;
    // A grade is a whole number: the same one stays inside, the next one outside, however close.
    if (kind.unit == ReadingUnit::grade) {
      EXPECT_GT(stage.tolerance(kind.id)->neighbours, 0) << kind.code;
      EXPECT_LT(lesson.tolerance(kind.id)->absolute, 1) << kind.code;
    }
  }
  EXPECT_EQ(stage.tolerance(Reading::dip)->absolute, 0.3);
  EXPECT_EQ(lesson.tolerance(Reading::dip)->neighbours, 0.2);
  refused("grade", "");
  refused("grade", "Stage");
  refused("grade", "concert");
}

TEST(WorkingCatalogue, TolerancesAreReadAsAHandWritesThem) {
  for (const char* typed : {"0.15, 0.05", "0,15; 0,05", "0.15 mm, 0.05 mm", "0.15;0.05"}) {
    const auto tolerance = with({{"sharp-dip-tolerance", typed}}).tolerance(Reading::sharp_dip);
    EXPECT_DOUBLE_EQ(tolerance->absolute, 0.15) << typed;
    EXPECT_DOUBLE_EQ(tolerance->neighbours, 0.05) << typed;
  }
  EXPECT_DOUBLE_EQ(with({{"down-weight-tolerance", "3 g, 1.5 g"}}).tolerances.at(16)->neighbours,
                   1.5);
  EXPECT_DOUBLE_EQ(
      with({{"damper-start-tolerance", "0.1, 0.05"}}).tolerance(Reading::damper_start)->absolute,
      0.1);
  const auto gap = with({{"shank-gap-tolerance", "2"}}).tolerance(Reading::shank_gap);
  EXPECT_DOUBLE_EQ(gap->absolute, 2);
  EXPECT_DOUBLE_EQ(gap->neighbours, 2);
  for (const char* typed : {"", "0.2", "0.2, 0.1, 0.1", "0.1, 0.2", "0, 0", "-0.2, -0.3", "0.2, 0",
                            "0.2, 0.1 g", "9, 8", "wide", "0.2, "})
    refused("dip-tolerance", typed);
  refused("shank-gap-tolerance", "2, 1");
  refused("string-height-tolerance", "1, 0.5");
  EXPECT_THAT(check_catalogue_setting("string-height-tolerance", "1").error().happened,
              HasSubstr("measured, not set"));
}

TEST(WorkingCatalogue, MinutesAndLimits) {
  EXPECT_DOUBLE_EQ(with({{"let-off-minutes", "0.25"}}).minutes_to_read(Reading::let_off), 0.25);
  EXPECT_DOUBLE_EQ(with({{"capstan-minutes", "30 s"}}).labour(Adjuster::capstan).minutes_move, 0.5);
  for (const char* typed : {"", "0", "-1", "61", "2 mm", "soon"}) {
    refused("capstan-minutes", typed);
    refused("blow-minutes", typed);
  }
  EXPECT_DOUBLE_EQ(with({{"capstan-limit", "3/4"}}).labour(Adjuster::capstan).most_each_way, 0.75);
  EXPECT_DOUBLE_EQ(with({{"back-check-limit", "2 mm"}}).labour(Adjuster::back_check).most_each_way,
                   2);
  EXPECT_DOUBLE_EQ(
      with({{"repetition-spring-limit", "2"}}).labour(Adjuster::repetition_spring).most_each_way,
      2);
  for (const char* typed : {"", "0", "-1/2", "1/128", "8", "2 mm", "all"})
    refused("capstan-limit", typed);
}

TEST(WorkingCatalogue, PapersAreThoseToHandRisingAndOnce) {
  for (const char* typed : {"0.05 0.13 0.5", "0,5 0,05 0,13", "0.05, 0.13, 0.5 mm", "0.5;0.13;0.05",
                            "0.13 mm 0.05 mm 0.5 mm 0.13"})
    EXPECT_THAT(with({{"papers", typed}}).papers, ElementsAre(0.05, 0.13, 0.5)) << typed;
  EXPECT_NEAR(with({{"papers", "0.002 in; 0.01 in"}}).papers.back(), 0.254, 1e-12);
  std::string many;
  for (int i = 1; i <= 25; ++i) many += "0." + std::to_string(100 + i) + " ";
  for (const std::string typed :
       {"", " ", "0", "-0.1", "0.005", "6", "thin", "0.1 g", many.c_str()})
    refused("papers", typed);
}

TEST(WorkingCatalogue, OtherSettingsArePassedOverAndSlipsAreNot) {
  EXPECT_TRUE(working_catalogue({{"sections", "E2 bridge"}, {"blow-target", "no number"}}));
  for (const char* name : {"", "sections", "blow-target", "-tolerance", "Blow-tolerance",
                           "blow tolerance", "capstan-tolerance", "blow-limit", "papers "}) {
    EXPECT_FALSE(is_catalogue_setting(name)) << name;
    const auto refusal = check_catalogue_setting(name, "1");
    ASSERT_FALSE(refusal) << name;
    EXPECT_THAT(refusal.error().todo, HasSubstr("<reading>-tolerance"));
  }
}

// One name is one setting: "x-minutes" would else be a reading's and an adjuster's.
TEST(WorkingCatalogue, NoCodeIsAReadingsAndAnAdjusters) {
  std::set<std::string_view> codes;
  for (const ReadingKind& kind : reading_kinds()) codes.insert(kind.code);
  for (const AdjusterKind& kind : adjuster_kinds()) EXPECT_FALSE(codes.contains(kind.code));
}

}  // namespace
}  // namespace batten

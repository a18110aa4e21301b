// The grammar of the settings, by the examples in line.hpp; a refusal always names the setting and
// says what to write.
#include "core/keyboard/samples.hpp"
#include "core/regulation/line/line.hpp"
#include "tests/line/journal_page.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <map>
#include <string>

namespace batten {
namespace {

using line_test::key;
using line_test::mm;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::StartsWith;

constexpr const char* demo_sections = "E2 bridge, A#4 strut, D6 strut";

Result<LineSettings> with(const std::string& name, const std::string& value) {
  std::map<std::string, std::string> on_record{{"sections", demo_sections}};
  on_record[name] = value;
  return line_settings(Compass{}, on_record);
}

LineSettings good(const std::string& name, const std::string& value) {
  auto settings = with(name, value);
  EXPECT_TRUE(settings) << name << " = " << value;
  const auto alone =
      check_line_setting(Compass{}, *parse_sections(demo_sections, Compass{}), name, value);
  EXPECT_TRUE(alone) << name << " = " << value;
  return settings.value_or(LineSettings{});
}

void refused(const std::string& name, const std::string& value) {
  SCOPED_TRACE(name + " = \"" + value + "\"");
  const auto on_record = with(name, value);
  const auto alone =
      check_line_setting(Compass{}, *parse_sections(demo_sections, Compass{}), name, value);
  ASSERT_FALSE(on_record);
  ASSERT_FALSE(alone);
  EXPECT_EQ(on_record.error(), alone.error());
  EXPECT_THAT(alone.error().happened, StartsWith("Setting " + name + ": "));
  EXPECT_FALSE(alone.error().todo.empty()) << alone.error().happened;
}

TEST(LineSettings, SectionsMustBeOnRecord) {
  const auto none = line_settings(Compass{}, {});
  ASSERT_FALSE(none);
  EXPECT_THAT(none.error().happened, HasSubstr("sections of this piano are not on record"));
  EXPECT_THAT(none.error().todo, HasSubstr("\"E2 bridge, A#4 strut, D6 strut\""));
  refused("sections", "E2 bridge, A#9 strut");
  refused("sections", "E2 wall");
  refused("sections", "A#4 strut, E2 bridge");
  EXPECT_EQ(good("sections", "E2 bridge").sections.size(), 2U);
  EXPECT_EQ(good("sections", "").sections.size(), 1U);
}

TEST(LineSettings, Defaults) {
  const LineSettings s = good("sections", demo_sections);
  ASSERT_EQ(s.blow.size(), 4U);
  EXPECT_DOUBLE_EQ(mm(s.blow.front().at_first), 46);
  EXPECT_DOUBLE_EQ(mm(s.blow.back().at_last), 45);
  EXPECT_EQ(s.samples, propose_samples(s.sections));
  EXPECT_FALSE(s.hammers_on_bench);
  EXPECT_EQ(s.turn_denominator, 64);
  EXPECT_DOUBLE_EQ(s.direction_sureness, 0.95);
  EXPECT_TRUE(s.out_of_service.empty());
  EXPECT_FALSE(s.undamped_from);
  // Common practice, no source: 1/16 turn moves a crown somewhat more than half a millimetre.
  EXPECT_GT(mm(s.crown_per_turn * (turn / 16.0)), 0.5);
  EXPECT_LT(mm(s.crown_per_turn * (turn / 16.0)), 0.7);
}

// One taper over the compass is one straight line: 46 − (key − 1) / 87.
TEST(LineSettings, OneTaperRunsStraightThroughTheSections) {
  const LineSettings s = good("blow-target", "46 to 45 mm");
  ASSERT_EQ(s.blow.size(), 4U);
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_NEAR(mm(s.blow[i].at_first), 46 - (s.sections[i].first.number - 1) / 87.0, 1e-12);
    EXPECT_NEAR(mm(s.blow[i].at_last), 46 - (s.sections[i].last.number - 1) / 87.0, 1e-12);
  }
}

TEST(LineSettings, BlowTarget) {
  const LineSettings each = good("blow-target", "46 to 45.5; 45.5; 45,25 mm; 1 3/4\"");
  ASSERT_EQ(each.blow.size(), 4U);
  EXPECT_DOUBLE_EQ(mm(each.blow[0].at_last), 45.5);
  EXPECT_DOUBLE_EQ(mm(each.blow[2].at_first), 45.25);
  EXPECT_DOUBLE_EQ(mm(each.blow[3].at_first), 44.45);  // 1.75 × 25.4
  good("blow-target", "35");
  good("blow-target", "60");
  for (const char* bad : {"", "34.9", "60.1", "long", "46 g", "46 to", "46; 45", "46;46;46;46;46",
                          "46 to 45 to 44", "1/8 turn"})
    refused("blow-target", bad);
}

TEST(LineSettings, Samples) {
  const auto sections = *parse_sections(demo_sections, Compass{});
  EXPECT_EQ(good("samples", "fuller").samples, propose_fuller_samples(sections));
  EXPECT_THAT(good("samples", "C4, a0 Bb3 C4").samples,
              ElementsAre(key("A0"), key("A#3"), key("C4")));
  for (const char* bad : {"", "some", "C4 H4", "C9", "B8"}) refused("samples", bad);
}

TEST(LineSettings, HammerDatum) {
  EXPECT_TRUE(good("hammer-datum", "bench").hammers_on_bench);
  EXPECT_FALSE(good("hammer-datum", "strings").hammers_on_bench);
  for (const char* bad : {"", "table", "Bench top"}) refused("hammer-datum", bad);
}

TEST(LineSettings, CrownPerTurn) {
  const LineSettings s = good("crown-per-turn", "8.4 mm, 0.3 mm");
  EXPECT_DOUBLE_EQ(mm(s.crown_per_turn * turn), 8.4);
  EXPECT_DOUBLE_EQ(mm(s.crown_per_turn_sd * turn), 0.3);
  EXPECT_DOUBLE_EQ(mm(good("crown-per-turn", "8,4; 0,3").crown_per_turn * turn), 8.4);
  for (const char* bad : {"", "9", "9, 1, 1", "9 mm, 0 mm", "9 mm, 5 mm", "0.5 mm, 0.1 mm",
                          "41 mm, 1 mm", "9 turns, 1 mm", "-9, 1"})
    refused("crown-per-turn", bad);
}

TEST(LineSettings, TurnStep) {
  EXPECT_EQ(good("turn-step", "1/32").turn_denominator, 32);
  EXPECT_EQ(good("turn-step", "1/10 turn").turn_denominator, 10);
  EXPECT_EQ(good("turn-step", "90°").turn_denominator, 4);
  for (const char* bad : {"", "0", "3/64", "1/300", "2", "-1/64", "1 mm"})
    refused("turn-step", bad);
}

TEST(LineSettings, DirectionSureness) {
  EXPECT_DOUBLE_EQ(good("direction-sureness", "0.5").direction_sureness, 0.5);
  EXPECT_DOUBLE_EQ(good("direction-sureness", "0,99").direction_sureness, 0.99);
  for (const char* bad : {"", "0.49", "1", "95", "0.95 mm", "sure"})
    refused("direction-sureness", bad);
}

TEST(LineSettings, OutOfServiceAndUndamped) {
  EXPECT_THAT(good("out-of-service", "C4 A0").out_of_service, ElementsAre(key("A0"), key("C4")));
  EXPECT_TRUE(good("out-of-service", "").out_of_service.empty());
  for (const char* bad : {"C9", "none"}) refused("out-of-service", bad);
  EXPECT_EQ(good("undamped-from", "G6").undamped_from, key("G6"));
  for (const char* bad : {"", "G6 A6", "top"}) refused("undamped-from", bad);
}

TEST(LineSettings, AnUnknownNameListsTheKnownOnes) {
  const auto result =
      check_line_setting(Compass{}, *parse_sections(demo_sections, Compass{}), "blow", "46");
  ASSERT_FALSE(result);
  for (const char* name : {"sections", "blow-target", "samples", "hammer-datum", "crown-per-turn",
                           "turn-step", "direction-sureness", "out-of-service", "undamped-from"})
    EXPECT_THAT(result.error().todo, HasSubstr(name));
}

}  // namespace
}  // namespace batten

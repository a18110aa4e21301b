// What a piano has, from its settings. That a top octave and a half goes undamped and that unisons
// have one, two and three strings from the bass up is common practice; the grammar is
// equipment.hpp's.
#include "core/regulation/catalogue/equipment.hpp"

#include <gtest/gtest.h>

#include <gmock/gmock.h>
#include <map>
#include <string>

namespace batten {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::StartsWith;

Key key(const char* name) { return *parse_key(name); }

Equipment with(const std::map<std::string, std::string>& on_record) {
  const auto equipment = equipment_on_record(Compass{}, on_record);
  EXPECT_TRUE(equipment) << (equipment ? "" : equipment.error().sentence());
  for (const auto& [name, value] : on_record) {
    EXPECT_TRUE(is_equipment_setting(name)) << name;
    EXPECT_TRUE(check_equipment_setting(Compass{}, name, value)) << name;
  }
  return equipment.value_or(Equipment{});
}

void refused(const std::string& name, const std::string& value) {
  SCOPED_TRACE(name + " = \"" + value + "\"");
  const auto on_record = equipment_on_record(Compass{}, {{name, value}});
  const auto alone = check_equipment_setting(Compass{}, name, value);
  ASSERT_FALSE(on_record);
  ASSERT_FALSE(alone);
  EXPECT_EQ(on_record.error(), alone.error());
  EXPECT_THAT(alone.error().happened, StartsWith("Setting " + name + ": "));
  EXPECT_FALSE(alone.error().todo.empty()) << alone.error().happened;
}

TEST(Equipment, IsCompleteUnlessSomethingElseIsOnRecord) {
  const Equipment e = with({});
  for (int n = 1; n <= 88; ++n) {
    EXPECT_TRUE(e.serves(Key{n}));
    EXPECT_TRUE(e.damped(Key{n}));
    EXPECT_EQ(e.strings(Key{n}), 3);
    for (const AdjusterKind& kind : adjuster_kinds())
      EXPECT_EQ(e.has(kind.id, Key{n}), kind.scope == Scope::per_note) << kind.code;
  }
  for (const AdjusterKind& kind : adjuster_kinds())
    EXPECT_EQ(e.has(kind.id), kind.scope == Scope::per_piano) << kind.code;
  EXPECT_FALSE(e.serves(Key{0}));
  EXPECT_FALSE(e.has(Adjuster::capstan, Key{89}));
  EXPECT_FALSE(e.asks(Reading::blow, Key{89}));
}

TEST(Equipment, NaturalsAndSharpsAreAskedTheirOwn) {
  const Equipment e = with({});
  for (const ReadingKind& kind : reading_kinds()) {
    const bool of_naturals = kind.id == Reading::key_height || kind.id == Reading::dip;
    const bool of_sharps = kind.id == Reading::sharps_height || kind.id == Reading::sharp_dip;
    EXPECT_EQ(e.asks(kind.id, key("C4")), kind.scope == Scope::per_note && !of_sharps) << kind.code;
    EXPECT_EQ(e.asks(kind.id, key("C#4")), kind.scope == Scope::per_note && !of_naturals)
        << kind.code;
  }
}

TEST(Equipment, NothingIsAskedOfANoteOutOfService) {
  const Equipment e = with({{"out-of-service", "C4, A0 C#6"}});
  EXPECT_THAT(e.out_of_service, ElementsAre(key("A0"), key("C4"), key("C#6")));
  for (const char* out : {"A0", "C4", "C#6"}) {
    EXPECT_FALSE(e.serves(key(out)));
    for (const ReadingKind& kind : reading_kinds()) EXPECT_FALSE(e.asks(kind.id, key(out)));
    for (const AdjusterKind& kind : adjuster_kinds()) EXPECT_FALSE(e.has(kind.id, key(out)));
  }
  EXPECT_TRUE(e.serves(key("B3")));
  EXPECT_TRUE(with({{"out-of-service", ""}}).out_of_service.empty());
  refused("out-of-service", "C9");
  refused("out-of-service", "H4");
}

TEST(Equipment, ADamperThatIsNotThereIsNotAskedAbout) {
  const Equipment e = with({{"undamped-from", "F#6"}});
  EXPECT_TRUE(e.damped(key("F6")));
  EXPECT_TRUE(e.asks(Reading::damper_start, key("F6")));
  EXPECT_TRUE(e.has(Adjuster::damper_wire, key("F6")));
  EXPECT_TRUE(e.has(Adjuster::sostenuto_tab, key("F6")));
  for (const char* above : {"F#6", "C8"}) {
    EXPECT_FALSE(e.damped(key(above)));
    EXPECT_FALSE(e.asks(Reading::damper_start, key(above)));
    EXPECT_FALSE(e.has(Adjuster::damper_wire, key(above)));
    EXPECT_FALSE(e.has(Adjuster::sostenuto_tab, key(above)));
    EXPECT_TRUE(e.asks(Reading::blow, key(above)));
    EXPECT_TRUE(e.has(Adjuster::capstan, key(above)));
  }
  refused("undamped-from", "");
  refused("undamped-from", "F6 G6");
  refused("undamped-from", "D9");
}

TEST(Equipment, UnisonsOfOneStringHaveNoLevel) {
  const Equipment e = with({{"one-string-to", "F1"}, {"two-strings-to", "E2"}});
  EXPECT_EQ(e.strings(key("F1")), 1);
  EXPECT_EQ(e.strings(key("F#1")), 2);
  EXPECT_EQ(e.strings(key("E2")), 2);
  EXPECT_EQ(e.strings(key("F2")), 3);
  for (const Reading gap :
       {Reading::unison_level, Reading::left_string_gap, Reading::right_string_gap}) {
    EXPECT_FALSE(e.asks(gap, key("F1")));
    EXPECT_TRUE(e.asks(gap, key("E2")));
    EXPECT_TRUE(e.asks(gap, key("F2")));
  }
  EXPECT_FALSE(e.asks(Reading::middle_string_gap, key("E2")));
  EXPECT_TRUE(e.asks(Reading::middle_string_gap, key("F2")));
  EXPECT_FALSE(e.has(Adjuster::string_level, key("F1")));
  EXPECT_TRUE(e.has(Adjuster::string_level, key("F#1")));
  refused("one-string-to", "");
  refused("two-strings-to", "E2 F2");
  const auto crossed =
      equipment_on_record(Compass{}, {{"one-string-to", "E2"}, {"two-strings-to", "F1"}});
  ASSERT_FALSE(crossed);
  EXPECT_THAT(crossed.error().happened, HasSubstr("F1"));
  EXPECT_FALSE(crossed.error().todo.empty());
}

TEST(Equipment, NothingIsAskedThatAMissingAdjusterWouldSet) {
  const Equipment e =
      with({{"lacks", "drop-screw C7, C8; Damper_wire F6-G6;front-punchings C#4;"}});
  EXPECT_THAT(e.lacking.at(Adjuster::damper_wire), ElementsAre(key("F6"), key("F#6"), key("G6")));
  EXPECT_FALSE(e.has(Adjuster::drop_screw, key("C7")));
  EXPECT_FALSE(e.has(Adjuster::drop_screw, key("C8")));
  EXPECT_TRUE(e.has(Adjuster::drop_screw, key("B7")));
  EXPECT_FALSE(e.asks(Reading::drop, key("C7")));
  EXPECT_TRUE(e.asks(Reading::drop, key("B7")));
  EXPECT_TRUE(e.asks(Reading::let_off, key("C7")));
  EXPECT_FALSE(e.asks(Reading::damper_start, key("F#6")));
  EXPECT_TRUE(e.asks(Reading::damper_start, key("G#6")));
  EXPECT_FALSE(e.asks(Reading::sharp_dip, key("C#4")));
  EXPECT_TRUE(e.asks(Reading::aftertouch, key("C#4")));
}

TEST(Equipment, AnAdjusterMayBeMissingAltogether) {
  const Equipment e = with({{"lacks", "sostenuto-blade; lever-height-button"}});
  EXPECT_FALSE(e.has(Adjuster::sostenuto_blade));
  EXPECT_TRUE(e.has(Adjuster::shift_stop));
  for (const char* note : {"A0", "C4", "C8"}) {
    EXPECT_FALSE(e.has(Adjuster::sostenuto_tab, key(note)));  // nothing to catch them
    EXPECT_FALSE(e.has(Adjuster::lever_height_button, key(note)));
    EXPECT_FALSE(e.asks(Reading::jack_clearance, key(note)));
    EXPECT_FALSE(e.asks(Reading::jack_wink, key(note)));
  }
  EXPECT_TRUE(with({{"lacks", ""}}).lacking.empty());
}

TEST(Equipment, WhatCannotBeMissingIsRefused) {
  for (const char* value : {"C7", "screw C7", "drop-screw C9", "drop-screw C8-C7", "drop-screw C7-",
                            "shift-stop C4", "drop screw C7"})
    refused("lacks", value);
  EXPECT_FALSE(is_equipment_setting("lack"));
  EXPECT_FALSE(is_equipment_setting(""));
  const auto unknown = check_equipment_setting(Compass{}, "lack", "");
  ASSERT_FALSE(unknown);
  EXPECT_THAT(unknown.error().todo, HasSubstr("undamped-from"));
}

}  // namespace
}  // namespace batten

#include "core/keyboard/compass.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <gmock/gmock.h>
#include <string>
#include <vector>

namespace batten {
namespace {

using ::testing::HasSubstr;

const Compass full{};

TEST(MakeCompass, AcceptsSeventyThreeToNinetySevenKeys) {
  int accepted = 0;
  for (Key low = lowest_possible_key; low <= highest_possible_key; ++low.number) {
    for (Key high = low; high <= highest_possible_key; ++high.number) {
      const int count = high.number - low.number + 1;
      const bool fits = count >= 73 && count <= 97 && is_natural(low) && is_natural(high);
      const Result<Compass> compass = make_compass(low, high);
      ASSERT_EQ(compass.has_value(), fits) << note_name(low) << " " << note_name(high);
      if (!fits) continue;
      ++accepted;
      ASSERT_EQ(compass->count(), count);
      ASSERT_EQ(compass->at(compass->position(high)), high);
    }
  }
  EXPECT_GT(accepted, 0);
  EXPECT_EQ(make_compass(Key{1}, Key{88}), full);
  // C0 to C8: eight octaves and one.
  EXPECT_EQ(make_compass(Key{-8}, Key{88})->count(), 97);
  // F1 to F7: six octaves and one.
  EXPECT_EQ(make_compass(*parse_key("F1"), *parse_key("F7"))->count(), 73);
}

TEST(MakeCompass, SaysWhyNot) {
  EXPECT_THAT(make_compass(Key{1}, Key{60}).error().happened, HasSubstr("is 60 keys"));
  EXPECT_THAT(make_compass(Key{2}, Key{88}).error().happened, HasSubstr("ends on a sharp"));
  EXPECT_THAT(make_compass(Key{88}, Key{1}).error().happened, HasSubstr("runs downwards"));
  EXPECT_THAT(make_compass(Key{-9}, Key{80}).error().happened, HasSubstr("beyond any keyboard"));
}

TEST(Sections, AreReadFromTheirBreaks) {
  const auto sections = parse_sections("E2 bridge, A#4 strut; d6  strut", full);
  ASSERT_TRUE(sections) << sections.error().sentence();
  const std::vector<Section> expected{{Key{1}, Key{20}, BreakKind::bridge},
                                      {Key{21}, Key{50}, BreakKind::strut},
                                      {Key{51}, Key{66}, BreakKind::strut},
                                      {Key{67}, Key{88}, BreakKind::none}};
  EXPECT_EQ(*sections, expected);
  EXPECT_EQ(print_sections(*sections), "E2 bridge, A#4 strut, D6 strut");
  EXPECT_EQ(section_of(*sections, Key{1}), 0);
  EXPECT_EQ(section_of(*sections, Key{20}), 0);
  EXPECT_EQ(section_of(*sections, Key{21}), 1);
  EXPECT_EQ(section_of(*sections, Key{88}), 3);
  EXPECT_EQ(section_of(*sections, Key{89}), -1);
}

TEST(Sections, OfAnEmptyTextAreOne) {
  EXPECT_EQ(parse_sections(" ", full), (std::vector<Section>{{Key{1}, Key{88}, BreakKind::none}}));
  EXPECT_EQ(print_sections(*parse_sections("", full)), "");
}

TEST(Sections, RefuseWhatIsNoLayout) {
  struct Row {
    std::string text, reason;
  };
  const std::vector<Row> table{
      {"X2 bridge", "“X2” is not a note"},
      {"E2", "does not say what ends the section"},
      {"E2 wall", "“wall” is no kind of break"},
      {"E2 none", "“none” is no kind of break"},
      {"E2 bridge,,A4 strut", "does not say what ends the section"},
      {"A4 strut, E2 bridge", "E2 does not lie above the one before"},
      {"E2 strut, E2 bridge", "E2 does not lie above the one before"},
      {"C0 strut", "is not on this keyboard"},
      {"G8 strut", "is not on this keyboard"},
      {"A#0 strut", "from A0 to A#0 has 2 notes"},
      {"A0 strut", "has one note"},
      {"B7 strut", "from C8 to C8 has one note"},
      {"C8 strut", "leaves no section above it"},
  };
  for (const Row& row : table) {
    const auto sections = parse_sections(row.text, full);
    ASSERT_FALSE(sections) << row.text;
    EXPECT_THAT(sections.error().happened, HasSubstr(row.reason)) << row.text;
    EXPECT_FALSE(sections.error().todo.empty()) << row.text;
  }
}

RC_GTEST_PROP(Sections, AreReadBackAsPrinted, ()) {
  std::vector<Section> sections;
  Key first = full.lowest;
  while (*rc::gen::inRange(0, 5) != 0) {
    const Key last{first.number + *rc::gen::inRange(2, 40)};
    if (last.number > full.highest.number - 3) break;
    sections.push_back({first, last, *rc::gen::element(BreakKind::strut, BreakKind::bridge)});
    first = Key{last.number + 1};
  }
  sections.push_back({first, full.highest, BreakKind::none});
  const auto read = parse_sections(print_sections(sections), full);
  RC_ASSERT(read.has_value());
  RC_ASSERT(*read == sections);
  for (int position = 0; position < full.count(); ++position) {
    const int index = section_of(sections, full.at(position));
    RC_ASSERT(index >= 0);
    RC_ASSERT(sections[static_cast<std::size_t>(index)].contains(full.at(position)));
  }
}

// Workshop pages: natural 23.5 mm, octave 164.5 mm, 52 × 23.5 = 1222 mm.
TEST(Widths, AreThoseOfAModernKeyboard) {
  EXPECT_DOUBLE_EQ(keyboard_width(full).in(millimetre), 1222);
  EXPECT_DOUBLE_EQ(octave_width.in(millimetre), 164.5);
  EXPECT_NEAR((7 * natural_width).in(millimetre), octave_width.in(millimetre), 1e-9);
  EXPECT_EQ(key_left(full, full.lowest), Length{});
  for (int number = 1; number <= 76; ++number) {
    const Length octave = key_left(full, Key{number + 12}) - key_left(full, Key{number});
    EXPECT_NEAR(octave.in(millimetre), 164.5, 1e-9);
  }
  EXPECT_NEAR((key_left(full, full.highest) + key_width(full.highest)).in(millimetre), 1222, 1e-9);
}

TEST(Widths, KeepEverySharpOverTheLineOfItsNaturals) {
  for (Key key{2}; key.number < 88; ++key.number) {
    if (is_natural(key)) continue;
    const Length line = key_left(full, Key{key.number + 1});
    EXPECT_EQ(is_natural(Key{key.number + 1}), true);
    EXPECT_LT(key_left(full, key), line);
    EXPECT_GT(key_left(full, key) + key_width(key), line);
  }
}

// The 2-3 grouping any keyboard shows: outer sharps of a group lean outwards, G# stands in the
// middle of its three. Common knowledge, no source.
TEST(Widths, LeanTheOuterSharpsOutwards) {
  const auto lean = [](const char* name) {
    const Key key = *parse_key(name);
    const Length centre = key_left(full, key) + key_width(key) / 2;
    return (centre - key_left(full, Key{key.number + 1})).in(millimetre);
  };
  EXPECT_LT(lean("C#4"), -1);
  EXPECT_NEAR(lean("D#4"), -lean("C#4"), 1e-9);
  EXPECT_LT(lean("F#4"), -1);
  EXPECT_NEAR(lean("G#4"), 0, 1e-9);
  EXPECT_NEAR(lean("A#4"), -lean("F#4"), 1e-9);
}

}  // namespace
}  // namespace batten

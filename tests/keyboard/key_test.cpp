#include "core/keyboard/key.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <gmock/gmock.h>
#include <string>

namespace batten {
namespace {

using ::testing::HasSubstr;

// Scientific pitch notation (Young, "Terminology for logarithmic frequency units", JASA 11, 1939;
// from memory): C4 is middle C, A4 is concert pitch; a piano runs from A0 to C8.
TEST(KeyNames, FollowScientificPitchNotation) {
  EXPECT_EQ(note_name(Key{1}), "A0");
  EXPECT_EQ(note_name(Key{2}), "A#0");
  EXPECT_EQ(note_name(Key{3}), "B0");
  EXPECT_EQ(note_name(Key{4}), "C1");
  EXPECT_EQ(note_name(Key{40}), "C4");
  EXPECT_EQ(note_name(Key{49}), "A4");
  EXPECT_EQ(note_name(Key{88}), "C8");
  EXPECT_EQ(note_name(Key{2}, Spelling::flats), "Bb0");
  EXPECT_EQ(note_name(lowest_possible_key), "C0");
  EXPECT_EQ(note_name(highest_possible_key), "G8");
}

TEST(KeyNames, CountNaturalsAndSharpsOfAStandardKeyboard) {
  int naturals = 0;
  int sharps = 0;
  for (int number = 1; number <= 88; ++number) ++(is_sharp(Key{number}) ? sharps : naturals);
  EXPECT_EQ(naturals, 52);  // workshop pages: 52 naturals of 23.5 mm
  EXPECT_EQ(sharps, 36);
}

// Equal temperament from A4 = 440 Hz (ISO 16:1975): an octave number and pitch class name the same
// pitch as the key number.
TEST(KeyNames, NameThePitchOfTheKeyNumber) {
  for (Key key = lowest_possible_key; key <= highest_possible_key; ++key.number) {
    const double by_number = 440.0 * std::exp2((key.number - 49) / 12.0);
    const double by_name = 440.0 * std::exp2(octave(key) - 4 + (pitch_class(key) - 9) / 12.0);
    EXPECT_NEAR(by_number, by_name, 1e-9 * by_number) << note_name(key);
  }
}

TEST(ParseKey, ReadsBackEveryNameInBothSpellings) {
  for (Key key = lowest_possible_key; key <= highest_possible_key; ++key.number) {
    EXPECT_EQ(parse_key(note_name(key)), key);
    EXPECT_EQ(parse_key(note_name(key, Spelling::flats)), key);
    EXPECT_EQ(parse_key(std::to_string(key.number)), key);
  }
}

TEST(ParseKey, ForgivesCaseSignsAndBlanks) {
  EXPECT_EQ(parse_key("c4"), Key{40});
  EXPECT_EQ(parse_key(" C4\t"), Key{40});
  EXPECT_EQ(parse_key("F♯3"), parse_key("F#3"));
  EXPECT_EQ(parse_key("G♭3"), parse_key("F#3"));
  EXPECT_EQ(parse_key("bb3"), parse_key("A#3"));
  EXPECT_EQ(parse_key("b3"), Key{39});
  EXPECT_EQ(parse_key("−8"), lowest_possible_key);
}

TEST(ParseKey, TakesNamesThatCrossAnOctave) {
  EXPECT_EQ(parse_key("B#3"), Key{40});
  EXPECT_EQ(parse_key("Cb4"), Key{39});
  EXPECT_EQ(parse_key("E#4"), parse_key("F4"));
  EXPECT_EQ(parse_key("Fb4"), parse_key("E4"));
}

TEST(ParseKey, RefusesWhatIsNoNote) {
  for (const char* text :
       {"", " ", "H4", "C", "C#", "4C", "C4x", "C##4", "C 4", "C-1", "4.5", "C1000"}) {
    const Result<Key> key = parse_key(text);
    ASSERT_FALSE(key) << text;
    EXPECT_THAT(key.error().happened, HasSubstr("is not a note")) << text;
  }
  for (const char* text : {"Cb0", "G#8", "C9", "B#8", "96", "-9", "C999", "999"}) {
    const Result<Key> key = parse_key(text);
    ASSERT_FALSE(key) << text;
    EXPECT_THAT(key.error().happened, HasSubstr("beyond any keyboard")) << text;
  }
}

}  // namespace
}  // namespace batten

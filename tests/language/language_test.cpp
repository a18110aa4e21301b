// Every word in both languages; the trade's names against the catalogue's own English.
#include "core/language/language.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <gmock/gmock.h>
#include <set>
#include <string>
#include <string_view>

namespace batten {
namespace {

std::multiset<std::string> places(const std::string& text) {
  std::multiset<std::string> names;
  for (std::size_t open = text.find('{'); open != std::string::npos;
       open = text.find('{', open + 1))
    names.insert(text.substr(open, text.find('}', open) - open + 1));
  return names;
}

TEST(Language, both_have_the_same_keys_and_the_same_places_to_fill) {
  const auto english = word_keys(Language::english);
  EXPECT_GT(english.size(), 200U);
  EXPECT_EQ(english, word_keys(Language::german));
  for (const auto key : english) {
    const std::string en = say(Language::english, key), de = say(Language::german, key);
    EXPECT_FALSE(en.empty()) << key;
    EXPECT_FALSE(de.empty()) << key;
    EXPECT_EQ(places(en), places(de)) << key;
  }
}

TEST(Language, no_key_twice) {
  const auto keys = word_keys(Language::english);
  EXPECT_EQ(std::ranges::adjacent_find(keys), keys.end());
}

TEST(Language, a_plural_has_its_singular) {
  for (const std::string_view key : {"one", "other"})
    for (const auto k : word_keys(Language::english))
      if (k.ends_with("." + std::string(key))) {
        const std::string base(k.substr(0, k.size() - key.size()));
        EXPECT_TRUE(
            has_words(Language::english, base + std::string(key == "one" ? "other" : "one")))
            << k;
      }
}

TEST(Language, everything_in_the_catalogue_has_its_words) {
  for (const auto language : {Language::english, Language::german}) {
    for (const ReadingKind& kind : reading_kinds())
      EXPECT_FALSE(name_of(language, kind.id).empty());
    for (const AdjusterKind& kind : adjuster_kinds()) {
      EXPECT_FALSE(name_of(language, kind.id).empty());
      EXPECT_NE(direction_of(language, kind.id, 1), direction_of(language, kind.id, -1));
    }
    for (const PreparationKind& kind : preparation_kinds())
      EXPECT_FALSE(name_of(language, kind.id).empty());
  }
  EXPECT_EQ(name_of(Language::german, Reading::blow), "Steighöhe");
}

TEST(Language, fills_in_what_is_given_and_leaves_the_rest) {
  EXPECT_EQ(say(Language::english, "month.3"), "March");
  EXPECT_EQ(capital("übersicht"), "Übersicht");
  EXPECT_EQ(capital("blow"), "Blow");
  EXPECT_EQ(capital(""), "");
}

// Duden, "Zahlen und Ziffern": decimal comma; dates with a full stop behind the day.
TEST(Language, numbers_and_dates_as_each_writes_them) {
  EXPECT_EQ(number_in(Language::english, 45.25, 1), "45.2");
  EXPECT_EQ(number_in(Language::german, -0.5, 2), "−0,50");
  EXPECT_EQ(number_in(Language::german, -0.001, 2), "0,00");
  EXPECT_EQ(date_in(Language::english, 2026, 3, 9), "9 March 2026");
  EXPECT_EQ(date_in(Language::german, 2026, 3, 9), "9. März 2026");
}

}  // namespace
}  // namespace batten

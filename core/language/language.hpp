// What pages and messages say, in the user's language. The words are data
// (data/words/<code>/*.json, the same the front end reads); every key is there in every language,
// which a test says.
#pragma once

#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

enum class Language : std::uint8_t { english, german };

// "en", "de" (ISO 639-1); nothing for others.
std::optional<Language> language_of(std::string_view code);
std::string_view code_of(Language language);

// What stands for {name} in a text.
struct Part {
  std::string_view name;
  std::string value;
};

// The text of a key with its {names} replaced; a name without a part stays as it is. The key is
// there: another is a mistake of the program (assert; the key itself where asserts are off).
std::string say(Language language, std::string_view key, std::initializer_list<Part> parts = {});
// "1 note", "3 notes": from key.one and key.other; {count} is filled in.
std::string say_count(Language language, std::string_view key, long count,
                      std::initializer_list<Part> parts = {});
bool has_words(Language language, std::string_view key);
std::vector<std::string_view> word_keys(Language language);

// The trade's names, by the catalogue's codes.
std::string name_of(Language language, Reading reading);
std::string name_of(Language language, Adjuster adjuster);
std::string name_of(Language language, PreparationItem item);
// "raise", "tiefer": what the hand does for an amount of that sign.
std::string direction_of(Language language, Adjuster adjuster, double amount);

// First letter large (A–Z and the letters of the two languages).
std::string capital(std::string text);

// "45.2", "45,2"; minus as −; −0 as 0. Not finite: "–". `decimals` 0…9.
std::string number_in(Language language, double value, int decimals);
// "26 November 2026", "26. November 2026"; month 1…12, day 1…31.
std::string date_in(Language language, int year, int month, int day);
// "November 2026"
std::string month_in(Language language, int year, int month);

}  // namespace batten

// Figures as a page says them, in its language and its unit.
#pragma once

#include "core/keyboard/key.hpp"
#include "core/language/language.hpp"

#include <string>
#include <vector>

namespace batten {

struct PageStyle {
  Language language = Language::english;
  bool inches = false;  // lengths as thousandths of an inch
};

// A day where the user is; month 1…12, day 1…31.
struct CivilDay {
  int year = 2000, month = 1, day = 1;
  bool operator==(const CivilDay&) const = default;
};

class Said {
 public:
  explicit Said(PageStyle style) : style_(style) {}

  Language language() const { return style_.language; }
  bool inches() const { return style_.inches; }
  std::string words(std::string_view key, std::initializer_list<Part> parts = {}) const {
    return say(style_.language, key, parts);
  }
  std::string count(std::string_view key, long count,
                    std::initializer_list<Part> parts = {}) const {
    return say_count(style_.language, key, count, parts);
  }
  bool knows(std::string_view key) const { return has_words(style_.language, key); }

  std::string number(double value, int decimals) const {
    return number_in(style_.language, value, decimals);
  }
  // "45.2 mm", "grade 2", "48 gf"; not finite: "–".
  std::string value(Reading reading, double value) const;
  // Without its unit.
  std::string bare(Reading reading, double value) const;
  // "mm", "in", "gf", "", …
  std::string unit(Reading reading) const;
  // A distance or spread, never negative: "0.25 mm", "0.3 of a grade".
  std::string spread(Reading reading, double value) const;
  // "3⁄64 turn", "0.25 mm", "2 steps": never its direction.
  std::string amount(Adjuster adjuster, double amount) const;
  // "about 1 h 10 min"
  std::string minutes(double minutes) const;
  std::string day(const CivilDay& day) const {
    return date_in(style_.language, day.year, day.month, day.day);
  }
  // "C♯4"
  static std::string note(Key key);
  // "A0, C1–E1, F♯4": runs of three or more neighbours joined.
  static std::string notes(const std::vector<Key>& rising);
  // "Blow", "Steighöhe"
  std::string heading(Reading reading) const { return capital(name_of(style_.language, reading)); }
  std::string heading(Adjuster adjuster) const {
    return capital(name_of(style_.language, adjuster));
  }

 private:
  std::string with_mark(std::string text) const;

  PageStyle style_;
};

}  // namespace batten

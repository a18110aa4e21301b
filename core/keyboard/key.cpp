#include "core/keyboard/key.hpp"

#include <fmt/format.h>

#include <array>
#include <cstddef>
#include <optional>

namespace batten {
namespace {

// Semitones from C0, which is never negative for a possible key.
int semitones(Key key) { return key.number - lowest_possible_key.number; }

constexpr std::array<std::string_view, 12> with_sharps{"C",  "C#", "D",  "D#", "E",  "F",
                                                       "F#", "G",  "G#", "A",  "A#", "B"};
constexpr std::array<std::string_view, 12> with_flats{"C",  "Db", "D",  "Eb", "E",  "F",
                                                      "Gb", "G",  "Ab", "A",  "Bb", "B"};

bool take(std::string_view& text, std::string_view prefix) {
  if (!text.starts_with(prefix)) return false;
  text.remove_prefix(prefix.size());
  return true;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

// Whole number of one to three digits.
std::optional<int> small_number(std::string_view digits) {
  if (digits.empty() || digits.size() > 3) return std::nullopt;
  int value = 0;
  for (const char c : digits) {
    if (c < '0' || c > '9') return std::nullopt;
    value = 10 * value + (c - '0');
  }
  return value;
}

std::optional<int> letter_pitch_class(char letter) {
  switch (letter) {
    case 'C':
    case 'c':
      return 0;
    case 'D':
    case 'd':
      return 2;
    case 'E':
    case 'e':
      return 4;
    case 'F':
    case 'f':
      return 5;
    case 'G':
    case 'g':
      return 7;
    case 'A':
    case 'a':
      return 9;
    case 'B':
    case 'b':
      return 11;
    default:
      return std::nullopt;
  }
}

std::optional<Key> read_number(std::string_view text) {
  const bool below = take(text, "-") || take(text, "−");
  const std::optional<int> number = small_number(text);
  if (!number) return std::nullopt;
  return Key{below ? -*number : *number};
}

std::optional<Key> read_name(std::string_view text) {
  if (text.empty()) return std::nullopt;
  const std::optional<int> letter = letter_pitch_class(text.front());
  if (!letter) return std::nullopt;
  text.remove_prefix(1);
  int shift = 0;
  if (take(text, "#") || take(text, "♯")) {
    shift = 1;
  } else if (take(text, "b") || take(text, "♭")) {
    shift = -1;
  }
  const std::optional<int> octave_number = small_number(text);
  if (!octave_number) return std::nullopt;
  return Key{lowest_possible_key.number + 12 * *octave_number + *letter + shift};
}

}  // namespace

int pitch_class(Key key) { return ((semitones(key) % 12) + 12) % 12; }

int octave(Key key) { return (semitones(key) - pitch_class(key)) / 12; }

bool is_sharp(Key key) {
  const int pitch = pitch_class(key);
  return pitch == 1 || pitch == 3 || pitch == 6 || pitch == 8 || pitch == 10;
}

std::string note_name(Key key, Spelling spelling) {
  const auto& names = spelling == Spelling::sharps ? with_sharps : with_flats;
  return fmt::format("{}{}", names[static_cast<std::size_t>(pitch_class(key))], octave(key));
}

Result<Key> parse_key(std::string_view text) {
  const std::string_view note = trimmed(text);
  std::optional<Key> key = read_number(note);
  if (!key) key = read_name(note);
  if (!key) {
    return problem(fmt::format("“{}” is not a note.", note.substr(0, 40)),
                   "Write a name such as C4, F#3 or Gb3, or a key number from 1 (A0) to 88 (C8).");
  }
  if (*key < lowest_possible_key || *key > highest_possible_key) {
    return problem(fmt::format("“{}” is beyond any keyboard.", note.substr(0, 40)),
                   "Notes run from C0 to G8; A0 to C8 are keys 1 to 88.");
  }
  return *key;
}

}  // namespace batten

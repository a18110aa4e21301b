// Keys and their names.
#pragma once

#include <compare>
#include <string>
#include <string_view>

#include "core/outcome/outcome.hpp"

namespace batten {

// One key, by its number on the standard keyboard: A0 is 1, C4 (middle C) is 40, C8 is 88. Keys
// below A0 on a longer compass have numbers 0, −1, … down to C0 = −8. The number names the pitch,
// not the place in a compass; see Compass::position.
struct Key {
  int number = 1;
  constexpr auto operator<=>(const Key&) const = default;
};

// Keys any keyboard here may have: C0 (−8) to G8 (95); one of 73 to 97 keys lies inside.
inline constexpr Key lowest_possible_key{-8};
inline constexpr Key highest_possible_key{95};

enum class Spelling { sharps, flats };

// Scientific pitch notation: "A0", "C♯4"/"C#4" printed as "C#4", or "Db4" with flats.
std::string note_name(Key key, Spelling spelling = Spelling::sharps);

// Reads "C4", "c4", "F#3", "F♯3", "Gb3", "G♭3", "B#3" (= C4), "Cb4" (= B3), or a key number on the
// standard keyboard ("40"). Error: not a note, or outside C0…G8.
Result<Key> parse_key(std::string_view text);

bool is_sharp(Key key);  // a raised, short ("black") key
inline bool is_natural(Key key) { return !is_sharp(key); }
// 0 = C … 11 = B
int pitch_class(Key key);
// Scientific octave number: 4 for C4…B4.
int octave(Key key);

}  // namespace batten

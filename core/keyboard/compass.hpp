// A keyboard's compass, its sections, and where keys lie.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/keyboard/key.hpp"
#include "core/outcome/outcome.hpp"
#include "core/quantities/quantity.hpp"

namespace batten {

// The keys from `lowest` to `highest`, both included; 73 to 97 of them, both ends naturals.
struct Compass {
  Key lowest{1};
  Key highest{88};

  int count() const { return highest.number - lowest.number + 1; }
  bool contains(Key key) const { return lowest <= key && key <= highest; }
  // 0-based place from the bass end; only for keys it contains.
  int position(Key key) const { return key.number - lowest.number; }
  Key at(int position) const { return Key{lowest.number + position}; }
  bool operator==(const Compass&) const = default;
};

// Errors: fewer than 73 or more than 97 keys, an end on a sharp, ends in the wrong order or outside
// the possible keys.
Result<Compass> make_compass(Key lowest, Key highest);

// What ends a section on its treble side.
enum class BreakKind {
  none,    // the top of the compass
  strut,   // a plate strut
  bridge,  // the change from bass to treble bridge
};

// A run of notes whose strings form one smooth line.
struct Section {
  Key first;
  Key last;
  BreakKind above = BreakKind::none;

  int count() const { return last.number - first.number + 1; }
  bool contains(Key key) const { return first <= key && key <= last; }
  bool operator==(const Section&) const = default;
};

// Reads and writes a section layout: the last note of each section but the top one, lowest first,
// with what ends it: "E2 bridge, A#4 strut, D6 strut"; ';' separates as well. Empty text: one
// section. Prints names with sharps.
// Errors: an unknown note or kind, notes not rising, outside the compass, a section of fewer than
// three notes.
Result<std::vector<Section>> parse_sections(std::string_view text, Compass compass);
std::string print_sections(const std::vector<Section>& sections);

// Index of the section that holds the key, or −1.
int section_of(const std::vector<Section>& sections, Key key);

// Widths of a modern keyboard (workshop pages; common figures, ±0.5 mm between instruments): seven
// naturals fill an octave.
inline constexpr Length natural_width = 23.5 * millimetre;
inline constexpr Length octave_width = 164.5 * millimetre;
inline constexpr Length sharp_width = 11.0 * millimetre;

// Left edge of a key from the left edge of the lowest natural; a sharp's is that of its raised part,
// set on the line between its neighbours, shifted as the usual 2-3 grouping shifts it: C to E in five
// equal tails, F to B in seven (common practice, no source).
Length key_left(Compass compass, Key key);
Length key_width(Key key);
// 88 keys: 52 naturals, 1222 mm.
Length keyboard_width(Compass compass);

}  // namespace batten

// Invented grands with worn hammers, their truth known, and what a technician would write down at a
// first look.
#pragma once

#include "core/journal/entry.hpp"
#include "workshop/chance.hpp"
#include "workshop/string_line.hpp"

#include <vector>

namespace batten::workshop {

// Blow wanted: 46 mm at the lowest key to 45 mm at the highest, straight.
Length blow_wanted(Compass compass, Key key);

// Heights that give the wanted blow, one per key.
std::vector<Length> hammer_targets(const StringLine& strings);

// Hammers as years left them: each section (at most four) slopes a little its own way, single ones
// stand out.
std::vector<Length> worn_hammers(const StringLine& strings, const std::vector<Length>& targets,
                                 Chance& chance);

struct WornPianoLaw {
  StringLaw strings;
  Length string_noise = 0.1 * millimetre;  // of one reading, as it states
  Length hammer_noise = 0.1 * millimetre;
  // Rise of the crown per turn of a capstan, over pianos: mean and standard deviation.
  LengthPerTurn crown_per_turn = 9 * millimetre / turn;
  LengthPerTurn crown_per_turn_sd = 1 * millimetre / turn;
};

// Heights over the strings' datum, one per key.
struct WornPiano {
  StringLine strings;
  std::vector<Length> targets, hammers;
  LengthPerTurn crown_per_turn;
  WornPianoLaw law;
};

WornPiano make_worn_piano(Chance& chance, const WornPianoLaw& law = {});

// Sections, blow target, preparation passed, string heights at the fuller samples, every hammer.
std::vector<EntryContent> first_look(const WornPiano& piano, Chance& chance);

}  // namespace batten::workshop

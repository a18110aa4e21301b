// Invented string planes with a known truth, and readings taken from them. The laws here are
// estimates made up for tests and the demo; none is the law the fairing assumes.
#pragma once

#include "core/fairing/fair_curve.hpp"
#include "core/keyboard/compass.hpp"
#include "workshop/chance.hpp"

#include <vector>

namespace batten::workshop {

struct StringLine {
  Compass compass;
  std::vector<Section> sections;
  std::vector<Length> heights;  // one per key, the true underside at the strike line

  Length at(Key key) const { return heights[static_cast<std::size_t>(compass.position(key))]; }
};

struct StringLaw {
  // Standard deviations over pianos, per section: place, rise, bow, S-shape.
  Length offset = 1.0 * millimetre;
  Length tilt = 0.8 * millimetre;
  Length bow = 0.5 * millimetre;
  Length cubic = 0.15 * millimetre;
  // A small wave of 8 to 16 keys, its amplitude.
  Length wave = 0.08 * millimetre;
  // From string to string, independent; a fair curve cannot know it.
  Length scatter;
};

// Adds the heights of one more section, which must follow what is there.
void append_section(StringLine& line, const Section& section, const StringLaw& law, Chance& chance);

// Four sections of 20 to 26 keys over A0…C8, heights about 195 mm above the key bed.
StringLine make_string_line(Chance& chance, const StringLaw& law = {});

struct ReadingLaw {
  Length noise = 0.1 * millimetre;  // standard deviation, and what the reading states
  bool heavy_tailed = false;        // Student t with 3 degrees of freedom, scaled to `noise`
  // A second gauge, used for every other reading, is off by this.
  Length second_gauge_offset;
};

std::vector<HeightReading> take_readings(const StringLine& line, const std::vector<Key>& keys,
                                         Chance& chance, const ReadingLaw& law = {});

}  // namespace batten::workshop

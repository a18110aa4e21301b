#include "workshop/string_line.hpp"

#include <cmath>
#include <numbers>

namespace batten::workshop {

void append_section(StringLine& line, const Section& section, const StringLaw& law,
                    Chance& chance) {
  const int first = section.first.number, last = section.last.number;
  const Length place = 195 * millimetre + chance.normal() * law.offset;
  const Length tilt = chance.normal() * law.tilt;
  const Length bow = chance.normal() * law.bow;
  const Length cubic = chance.normal() * law.cubic;
  const double wave_length = 8 + 8 * chance.uniform();
  const double phase = 2 * std::numbers::pi * chance.uniform();
  for (int k = first; k <= last; ++k) {
    const double t = (2.0 * k - first - last) / (last - first);
    const double wave = std::sin(2 * std::numbers::pi * k / wave_length + phase);
    line.heights.push_back(place + t * tilt + (t * t - 1.0 / 3) * bow +
                           (t * t * t - 0.6 * t) * cubic + wave * law.wave +
                           chance.normal() * law.scatter);
  }
}

StringLine make_string_line(Chance& chance, const StringLaw& law) {
  StringLine line;
  int ends[4] = {};
  do {
    int at = 0;
    for (int& end : ends) end = at += chance.between(20, 26);
  } while (ends[3] != line.compass.count());

  int first = 1;
  for (int s = 0; s < 4; ++s) {
    const BreakKind above = s == 3   ? BreakKind::none
                            : s == 0 ? BreakKind::bridge
                                     : BreakKind::strut;
    line.sections.push_back({Key{first}, Key{ends[s]}, above});
    append_section(line, line.sections.back(), law, chance);
    first = ends[s] + 1;
  }
  return line;
}

std::vector<HeightReading> take_readings(const StringLine& line, const std::vector<Key>& keys,
                                         Chance& chance, const ReadingLaw& law) {
  // Student t with 3 degrees of freedom has a standard deviation of sqrt(3).
  const double heavy = 1 / std::sqrt(3.0);
  std::vector<HeightReading> readings;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const double error = law.heavy_tailed ? heavy * chance.student(3) : chance.normal();
    const Length gauge = i % 2 == 1 ? law.second_gauge_offset : Length();
    readings.push_back({keys[i], line.at(keys[i]) + error * law.noise + gauge, law.noise});
  }
  return readings;
}
}  // namespace batten::workshop

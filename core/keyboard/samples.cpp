#include "core/keyboard/samples.hpp"

#include <algorithm>
#include <cstddef>

namespace batten {
namespace {

// The open stretch between two notes that are set, or that bound the section from outside.
struct Gap {
  int below;
  int above;
};

// Level by level, so that every middle is set before any note beside it.
void fill(Gap gap, std::vector<Key>& order) {
  std::vector<Gap> gaps{gap};
  for (std::size_t i = 0; i < gaps.size(); ++i) {
    const auto [below, above] = gaps[i];
    if (above - below < 2) continue;
    const int middle = below + (above - below) / 2;
    order.push_back(Key{middle});
    gaps.push_back({below, middle});
    gaps.push_back({middle, above});
  }
}

}  // namespace

std::vector<Key> propose_samples(const std::vector<Section>& sections) {
  constexpr int pitch_of_e = 4;
  constexpr int pitch_of_b = 11;
  std::vector<Key> samples;
  for (const Section& section : sections) {
    for (Key key = section.first; key <= section.last; ++key.number) {
      const int pitch = pitch_class(key);
      if (key == section.first || key == section.last || pitch == pitch_of_e ||
          pitch == pitch_of_b) {
        samples.push_back(key);
      }
    }
  }
  return samples;
}

std::vector<Key> fill_by_halves(const Section& section, const std::vector<Key>& samples) {
  std::vector<Key> order;
  int below = section.first.number - 1;
  for (const Key sample : samples) {
    if (!section.contains(sample)) continue;
    fill({below, sample.number}, order);
    below = sample.number;
  }
  fill({below, section.last.number + 1}, order);
  return order;
}

std::vector<Key> working_order(const std::vector<Section>& sections,
                               const std::vector<Key>& samples) {
  std::vector<Key> order = samples;
  for (const Section& section : sections) {
    const std::vector<Key> filled = fill_by_halves(section, samples);
    order.insert(order.end(), filled.begin(), filled.end());
  }
  return order;
}

}  // namespace batten

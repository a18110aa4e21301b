#include "core/keyboard/samples.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <vector>

namespace batten {
namespace {

// A reading this near a section's end is what the end is judged by.
constexpr int near_end = 2;
// More than any distance between samples, so that a place near an end always goes before one in the
// middle.
constexpr int end_comes_first = 1000;

// How much a reading of `key` adds to `samples` of its section; 0 for a sample.
int worth(const Section& section, Key key, const std::vector<Key>& samples) {
  int nearest = end_comes_first;
  for (const Key sample : samples) {
    if (section.contains(sample)) {
      nearest = std::min(nearest, std::abs(sample.number - key.number));
    }
  }
  if (nearest == 0) return 0;
  const int from_end =
      std::min(key.number - section.first.number, section.last.number - key.number);
  // Right beside the end first.
  return from_end <= near_end ? end_comes_first + nearest - from_end : nearest;
}

std::map<int, std::vector<Key>> naturals_by_octave(const std::vector<Section>& sections) {
  std::map<int, std::vector<Key>> naturals;
  for (const Section& section : sections) {
    for (Key key = section.first; key <= section.last; ++key.number) {
      if (is_natural(key)) naturals[octave(key)].push_back(key);
    }
  }
  return naturals;
}

}  // namespace

std::vector<Key> propose_fuller_samples(const std::vector<Section>& sections) {
  std::vector<Key> samples = propose_samples(sections);
  for (const auto& [_, keys] : naturals_by_octave(sections)) {
    Key best;
    int most = 0;
    for (const Key key : keys) {
      const auto home = static_cast<std::size_t>(section_of(sections, key));
      const int gain = worth(sections[home], key, samples);
      if (gain > most) {
        most = gain;
        best = key;
      }
    }
    if (most > 0) samples.insert(std::upper_bound(samples.begin(), samples.end(), best), best);
  }
  return samples;
}

}  // namespace batten

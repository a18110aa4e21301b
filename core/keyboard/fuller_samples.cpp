#include "core/keyboard/samples.hpp"

#include <algorithm>
#include <cstdlib>
#include <map>

namespace batten {

namespace {

constexpr int kNearEnd = 2;
// More than any distance between samples, so that a place near an end always goes before one in the
// middle.
constexpr int kEndComesFirst = 1000;

// How much a reading of `key` adds to `samples` of its section; 0 for a sample.
int worth(const Section& section, Key key, const std::vector<Key>& samples) {
  int nearest = kEndComesFirst;
  for (Key s : samples)
    if (section.contains(s)) nearest = std::min(nearest, std::abs(s.number - key.number));
  if (nearest == 0) return 0;
  const int from_end =
      std::min(key.number - section.first.number, section.last.number - key.number);
  // Right beside the end first: it is what the end is judged by.
  return from_end <= kNearEnd ? kEndComesFirst + nearest - from_end : nearest;
}

}  // namespace

std::vector<Key> propose_fuller_samples(const std::vector<Section>& sections) {
  std::vector<Key> samples = propose_samples(sections);
  std::map<int, std::vector<Key>> naturals;  // by octave
  for (const Section& s : sections)
    for (int k = s.first.number; k <= s.last.number; ++k)
      if (is_natural(Key{k})) naturals[octave(Key{k})].push_back(Key{k});

  for (const auto& [_, keys] : naturals) {
    Key best{};
    int most = 0;
    for (Key key : keys) {
      const Section& s = sections[static_cast<std::size_t>(section_of(sections, key))];
      const int w = worth(s, key, samples);
      if (w > most) {
        most = w;
        best = key;
      }
    }
    if (most > 0) samples.insert(std::upper_bound(samples.begin(), samples.end(), best), best);
  }
  return samples;
}

}  // namespace batten

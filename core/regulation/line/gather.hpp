// From the journal to the readings the line is drawn from. Internal to core/regulation/line.
#pragma once

#include "core/fairing/fair_curve.hpp"
#include "core/journal/fold.hpp"
#include "core/keyboard/compass.hpp"

#include <map>
#include <optional>
#include <vector>

namespace batten::line {

// A height with its uncertainty; repeats already averaged.
struct Measured {
  Length value;
  Length sd;
  bool repeats_disagree = false;  // scatter beyond three times what the gauge states
  std::size_t place = 0;          // in the journal, of the last reading
  Uuid visit;
};

struct UnisonSpread {
  Key key;
  Length spread;
};

struct Readings {
  std::vector<HeightReading>
      strings;                      // every reading, so that a wrong one can be told from a repeat
  std::map<Key, Measured> hammers;  // since the last move that changed them
  std::map<Key, Measured> blows;    // likewise
  std::map<Key, bool> moved_since;  // read once, turned since, not read again
  std::vector<HeightReading> transfers;
  std::vector<UnisonSpread> unisons;  // off level by more than the catalogue's tolerance
};

// Strings, hammers, blows and transfers each from the latest visit that read any. Transfers of a
// visit before the hammers' do not count: the bench has been set up anew. Hammer heights read
// before the setting hammer-datum last changed do not count: nobody knows which datum they were
// over. Repeats that disagree are taken by the last two where those agree. Readings at notes
// outside the compass are left out.
Readings gather(Compass compass, const Standing& standing);

}  // namespace batten::line

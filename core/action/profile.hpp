// A whole keyboard's dimensions: a few notes given, the rest drawn between them.
#pragma once

#include "core/action/readings.hpp"
#include "core/action/regulate.hpp"
#include "core/keyboard/key.hpp"

#include <string>
#include <vector>

namespace batten::action {

// One note of a profile given in full.
struct Anchor {
  Key key;
  Dimensions dimensions;
  Wanted wanted;                 // the readings it is regulated to
  double balance_weight = 0.39;  // N, leads are found for it
};

struct Profile {
  std::string name;
  std::string source;           // where its numbers come from
  std::vector<Anchor> anchors;  // rising keys, two at least
  // What makes a sharp of a natural: the front arm shorter, its pin farther back (m, both
  // positive).
  double sharp_shorter = 0.035, sharp_pin_back = 0.015;
  double sharp_dip = -0.0003;  // m, its dip against the naturals'
  // From this key up there are no dampers (the treble's last octave and a half).
  Key first_undamped{69};
};

// Error: no or too few anchors, keys not rising, a dimension out of range.
Result<void> check(const Profile& profile);

// Linear between anchors by key number, the nearest anchor's outside them; sharps and dampers
// applied.
Anchor note_of(const Profile& profile, Key key);

}  // namespace batten::action

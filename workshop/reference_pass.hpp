// What the reference technicians' passes are made of. Internal to workshop.
#pragma once

#include "workshop/technician.hpp"

#include <functional>
#include <vector>

namespace batten::workshop::reference {

// What a unit (turn, mm, step) of each adjuster does to its aim on a medium grand: core/action's
// influences there times the trade's pitches (nominal_pitch).
inline constexpr std::array<double, note_adjuster_count> usual_turn{-9.5, 2.09, -1.04, 1.33, 1.02,
                                                                    1.0,  4.30, 4.46,  -6.4, 0.114};

// Tolerances against neighbours and around the target, catalogue; spring and jack as they are
// judged by hand.
inline constexpr std::array<double, aim_count> close_by{0.10, 0.20, 0.10, 0.5,  0.25, 0.10,
                                                        0.20, 0.30, 0.80, 0.15, 0.04};
inline constexpr std::array<double, aim_count> around{0.30, 0.20, 0.10, 0.5,  0.50, 0.20,
                                                      0.30, 0.40, 1.50, 0.20, 0.08};

// This piano's turn, learned from moves read before and after with a gauge; the usual one until
// three have been seen.
class Turn {
 public:
  double per_unit(Adjuster adjuster) const;
  void saw(Adjuster adjuster, double amount, double change, double noise);

 private:
  struct Sums {
    int count = 0;
    double up = 0, down = 0;
  };
  std::array<Sums, note_adjuster_count> sums_{};
};

struct Pass {
  Adjuster adjuster = Adjuster::capstan;
  std::vector<Key> keys;
  Way way = Way::gauge;
  double accept = 0;        // what may be left, aim's unit
  int tries = 4;            // turns at one note
  bool again = true;        // read after each turn
  Turn* learned = nullptr;  // nothing: the usual turn
  // Hammers set already, to sight along (blow by eye).
  const std::vector<Key>* line = nullptr;
  // Nothing: read as the pass goes. Else what was read just before, one per key.
  const std::vector<double>* known = nullptr;
};

// Reads each note and turns what is not near its target. Returns the keys turned.
std::vector<Key> go_over(Hands& hands, const Pass& pass, const std::vector<NoteTargets>& targets);

// What a hand does where a note does not let go: lets the lever's screw down a little, then deepens
// the key. Returns what it turned.
std::vector<MoveMeant> free_hammers(Hands& hands, std::span<const Key> keys);

// Keys in rising order, naturals before sharps where one hangs on the other.
std::vector<Key> all_keys(const HiddenPiano& piano);
std::vector<Key> with_dampers(const HiddenPiano& piano, const std::vector<Key>& keys);
std::vector<Key> naturals_first(std::vector<Key> keys);

// As the hand can make it: papers by what can be put together of a common set, springs by half
// steps.
double as_made(Adjuster adjuster, double amount);

}  // namespace batten::workshop::reference

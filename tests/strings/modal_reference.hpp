// The same blow by another method: the modes of the strings, one oscillator each, and a head behind
// a power-law spring, by leapfrog with every free motion exact. No delay line, no implicit force.
// Sources: P. M. Morse, Vibration and Sound, 1948, sec. 10 (modes of the string); E. Hairer, C.
// Lubich, G. Wanner, Geometric Numerical Integration, 2006, II.5 (splitting).
#pragma once

#include "core/strings/unison.hpp"

#include <vector>

namespace batten::tests {

struct ModalBlow {
  std::vector<double> impulse;       // N s so far, after every `sample` seconds
  std::vector<double> displacement;  // m at the strike point, likewise
  double contact_time = 0;           // s
  double peak_force = 0;             // N
  double rebound = 0;                // m/s
};

// Ends without loss (`reflection` is not read), felt without loss. The head starts at the strings.
ModalBlow strike_modes(const Unison& unison, const HammerFelt& felt, double mass, double speed,
                       int modes, double step, double duration, double sample);

}  // namespace batten::tests

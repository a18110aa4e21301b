// A head that nothing but the strings pushes, thrown at them: the simplest caller there is.
#pragma once

#include "core/strings/struck_unison.hpp"

#include <vector>

namespace batten::tests {

struct Head {
  double mass = 0;    // kg
  double height = 0;  // m
  double speed = 0;   // m/s, into the strings

  double energy() const { return 0.5 * mass * speed * speed; }
};

// One step as the strings themselves see it, without any error of the caller.
Impulse step_head(StruckUnison& strings, Head& head, double step);

struct Blow {
  double contact_time = 0;  // s with force
  double span = 0;          // s from first to last touch, to one step
  double peak_force = 0;    // N
  double rebound = 0;       // m/s, away from the strings
  double impulse = 0;       // N s
  double work = 0;          // J given to the strings
};

// Strings stilled, the head thrown from `from` below them; until it is `from` + 5 mm below again.
Blow strike(StruckUnison& strings, double mass, double speed, double step, double from = 0);

// Mass of a hammer by key number (A0 = 1), kg: 11.074 - 0.074 n + 1e-4 n^2 g, Stulov 2008 eq. 11 as
// second-hand notes have it.
double hammer_mass(int key);

// Keys nearest to the fundamentals of the known notes (equal temperament, A4 = 440 Hz).
inline constexpr int known_keys[]{12, 40, 76};

// Bass, C4 (8.9 g: Chaigne & Askenfelt 1994, three times 2.97 g) and treble.
double known_mass(std::size_t note);

}  // namespace batten::tests

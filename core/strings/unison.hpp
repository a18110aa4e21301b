// The strings of one note and the felt that strikes them, as values in SI units.
#pragma once

#include <array>

namespace batten {

// Equal ideal strings struck together at one point: flexible, without stiffness, both ends fixed.
struct Unison {
  int count = 3;            // strings
  double tension = 0;       // N, each
  double length = 0;        // m, speaking length
  double mass = 0;          // kg, each, of the speaking length
  double strike_ratio = 0;  // near end to strike point over length, above 0 up to 0.5
  // What is left of a velocity wave after one end, 0 to 1; both ends alike. Estimate, no source:
  // a C4 loses 1/e of its amplitude in 0.38 s; over one blow it changes nothing that can be felt.
  double reflection = 0.995;
};

// Force of the whole unison on the felt at compression d >= 0 (m), N:
//   F = count * stiffness * (d^exponent + recovery_time * d(d^exponent)/dt), never below 0.
// The power law: Hall & Askenfelt, JASA 83 (1988) 1627; the rate term: Stulov, JASA 97 (1995) 2577,
// for compressions slow against the felt's memory (form from memory). Zero: felt without loss.
struct HammerFelt {
  double stiffness = 0;      // N/m^exponent, for each string
  double exponent = 2.5;     // at least 1
  double recovery_time = 0;  // s, at least 0
};

// Force over speed of a wave on all strings together, N s/m: count * sqrt(tension * mass / length).
double impedance(const Unison& unison);

// Time of a wave to both ends and back, s: 2 * sqrt(mass * length / tension); 1 / fundamental.
double period(const Unison& unison);

// Everything finite and in the ranges above.
bool is_sound(const Unison& unison);
bool is_sound(const HammerFelt& felt);

struct StruckNote {
  Unison unison;
  HammerFelt felt;
};

// Three notes from which others are interpolated: low bass (53 Hz), C4 (262 Hz) and a treble of
// 2.1 kHz. C4: Chaigne & Askenfelt, JASA 95 (1994) 1112 and 1631. The others: from memory, after
// the same papers; the bass lies below the C2 they are remembered for.
inline constexpr std::array<StruckNote, 3> known_notes{{
    {{2, 750, 1.90, 35e-3, 0.12}, {4e8, 2.3}},
    {{3, 670, 0.62, 3.93e-3, 0.12}, {4.5e9, 2.5}},
    {{3, 750, 0.09, 0.467e-3, 0.0625}, {1e12, 3.0}},
}};

}  // namespace batten

// Repeatable chance: the same seed gives the same piano on every machine and standard library.
#pragma once

#include <cstdint>
#include <random>

namespace batten::workshop {

class Chance {
 public:
  explicit Chance(std::uint64_t seed) : engine_(seed) {}

  double uniform();                // [0, 1), 53 bits
  int between(int low, int high);  // both included
  double normal();                 // mean 0, standard deviation 1 (Box-Muller)
  double student(int freedom);     // Student t; heavy tails below about 5
  bool coin() { return uniform() < 0.5; }

 private:
  // std::mt19937_64 is specified to the bit; the standard distributions are not, hence the above.
  std::mt19937_64 engine_;
};

}  // namespace batten::workshop

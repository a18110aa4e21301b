#include "workshop/chance.hpp"

#include <cmath>
#include <numbers>

namespace batten::workshop {

double Chance::uniform() { return static_cast<double>(engine_() >> 11) * 0x1.0p-53; }

int Chance::between(int low, int high) {
  return low + static_cast<int>(uniform() * static_cast<double>(high - low + 1));
}

double Chance::normal() {
  const double u = 1 - uniform();  // (0, 1]
  const double v = uniform();
  return std::sqrt(-2 * std::log(u)) * std::cos(2 * std::numbers::pi * v);
}

double Chance::student(int freedom) {
  const double z = normal();
  double chi2 = 0;
  for (int i = 0; i < freedom; ++i) {
    const double n = normal();
    chi2 += n * n;
  }
  return z / std::sqrt(chi2 / freedom);
}

}  // namespace batten::workshop

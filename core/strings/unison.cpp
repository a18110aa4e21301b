#include "core/strings/unison.hpp"

#include <cmath>
#include <initializer_list>

namespace batten {
namespace {

bool all_positive(std::initializer_list<double> values) {
  for (const double value : values)
    if (!(value > 0) || !std::isfinite(value)) return false;
  return true;
}

}  // namespace

double impedance(const Unison& unison) {
  return unison.count * std::sqrt(unison.tension * unison.mass / unison.length);
}

double period(const Unison& unison) {
  return 2 * std::sqrt(unison.mass * unison.length / unison.tension);
}

bool is_sound(const Unison& unison) {
  return unison.count > 0 &&
         all_positive({unison.tension, unison.length, unison.mass, unison.strike_ratio}) &&
         unison.strike_ratio <= 0.5 && unison.reflection >= 0 && unison.reflection <= 1;
}

bool is_sound(const HammerFelt& felt) {
  return all_positive({felt.stiffness, felt.exponent}) && felt.exponent >= 1 &&
         felt.recovery_time >= 0 && std::isfinite(felt.recovery_time);
}

}  // namespace batten

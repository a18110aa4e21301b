#include "tests/strings/free_head.hpp"

#include <algorithm>

namespace batten::tests {

Impulse step_head(StruckUnison& strings, Head& head, double step) {
  const Impulse got = strings.advance(step, head.height, head.speed, 0, head.mass);
  head.height += head.speed * step - got.crown_shift;
  head.speed -= got.impulse / head.mass;
  return got;
}

Blow strike(StruckUnison& strings, double mass, double speed, double step, double from) {
  strings.rest();
  Head head{mass, -from, speed};
  Blow blow;
  double first = -1;
  for (int i = 1; i <= 100'000; ++i) {
    const Impulse got = step_head(strings, head, step);
    const double now = i * step;
    if (got.contact_time > 0) {
      if (first < 0) first = now - step;
      blow.span = now - first;
    }
    blow.contact_time += got.contact_time;
    blow.peak_force = std::max(blow.peak_force, got.peak_force);
    blow.impulse += got.impulse;
    if (head.speed < 0 && head.height < -from - 5e-3) break;
  }
  blow.rebound = -head.speed;
  blow.work = strings.work();
  return blow;
}

double hammer_mass(int key) { return 1e-3 * (11.074 - 0.074 * key + 1e-4 * key * key); }

double known_mass(std::size_t note) { return note == 1 ? 8.9e-3 : hammer_mass(known_keys[note]); }

}  // namespace batten::tests

#include "tests/strings/modal_reference.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace batten::tests {

ModalBlow strike_modes(const Unison& unison, const HammerFelt& felt, double mass, double speed,
                       int modes, double step, double duration, double sample) {
  const auto count = static_cast<std::size_t>(modes);
  const double string_mass = unison.count * unison.mass;
  std::vector<double> shape(count);
  std::vector<double> cosine(count);
  std::vector<double> sine(count);
  std::vector<double> omega(count);
  for (std::size_t j = 0; j < count; ++j) {
    const double order = static_cast<double>(j + 1);
    shape[j] = std::sin(order * std::numbers::pi * unison.strike_ratio);
    omega[j] = order * std::numbers::pi * std::sqrt(unison.tension / (unison.mass * unison.length));
    cosine[j] = std::cos(omega[j] * step);
    sine[j] = std::sin(omega[j] * step);
  }
  // Each mode as place and speed over omega, so that free motion is a rotation.
  std::vector<double> place(count, 0.0);
  std::vector<double> swing(count, 0.0);
  ModalBlow blow;
  double height = 0.5 * step * speed;  // leapfrog: half a free step ahead
  double impulse = 0;
  const long long every = std::llround(sample / step);
  const long long steps = std::llround(duration / step);
  for (long long i = 1; i <= steps; ++i) {
    double displacement = 0;
    for (std::size_t j = 0; j < count; ++j) displacement += shape[j] * place[j];
    const double compression = height - displacement;
    const double force =
        compression > 0 ? unison.count * felt.stiffness * std::pow(compression, felt.exponent) : 0;
    if (force > 0) blow.contact_time += step;
    blow.peak_force = std::max(blow.peak_force, force);
    impulse += step * force;
    speed -= step * force / mass;
    height += step * speed;
    for (std::size_t j = 0; j < count; ++j) {
      const double kicked = swing[j] + step * force * 2 * shape[j] / (string_mass * omega[j]);
      const double old = place[j];
      place[j] = cosine[j] * old + sine[j] * kicked;
      swing[j] = cosine[j] * kicked - sine[j] * old;
    }
    if (i % every == 0) {
      blow.impulse.push_back(impulse);
      blow.displacement.push_back(displacement);
    }
  }
  blow.rebound = -speed;
  return blow;
}

}  // namespace batten::tests

#include "core/strings/struck_unison.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace batten {
namespace {

// Waves below this are silence: a nanometre after a second at this speed.
constexpr double still_speed = 1e-9;  // m/s

long long whole_steps(double time, double grid) {
  // A step that is a multiple of the grid must not lose one to rounding.
  return static_cast<long long>(std::floor(time / grid * (1 + 1e-13) + 1e-9));
}

}  // namespace

// The rings at hand during a run of substeps, so that the compiler keeps them in registers.
struct StruckUnison::Waves {
  double* near;
  double* far;
  std::size_t near_count, far_count;
  std::size_t near_at, far_at;
  double reflection;

  double near_in() const { return -reflection * near[near_at]; }
  double far_in() const { return -reflection * far[far_at]; }
  // Sends the waves that leave a strike point moving at `speed` and takes one step.
  void send(double near_out, double far_out) {
    near[near_at] = near_out;
    far[far_at] = far_out;
    if (++near_at == near_count) near_at = 0;
    if (++far_at == far_count) far_at = 0;
  }
};

StruckUnison::StruckUnison(const Unison& unison, const HammerFelt& felt, double longest_substep)
    : impedance_(impedance(unison)),
      reflection_(unison.reflection),
      law_{unison.count * felt.stiffness, 0, strings::Power(felt.exponent)} {
  assert(is_sound(unison) && is_sound(felt) && longest_substep > 0);
  // Fewer steps to the near end would round its place and blur its echo too much.
  constexpr double fewest_near_steps = 8;
  const double whole = period(unison);
  const double near = unison.strike_ratio * whole;
  const double near_steps = std::max(fewest_near_steps, std::ceil(near / longest_substep));
  const double steps = std::max(std::round(near_steps / unison.strike_ratio), 2 * near_steps);
  near_steps_ = static_cast<std::size_t>(near_steps);
  far_steps_ = static_cast<std::size_t>(steps) - near_steps_;
  grid_ = whole / steps;
  law_.recovery_steps = felt.recovery_time / grid_;
  sent_.assign(near_steps_ + far_steps_, 0.0);
}

double StruckUnison::strike_ratio() const {
  return static_cast<double>(near_steps_) / static_cast<double>(near_steps_ + far_steps_);
}

void StruckUnison::rest() {
  std::fill(sent_.begin(), sent_.end(), 0.0);
  near_at_ = far_at_ = 0;
  displacement_ = lag_ = owed_ = greatest_ = force_ = force_rise_ = work_ = 0;
}

double StruckUnison::string_energy() const {
  double squares = 0;
  for (const double wave : sent_) squares += wave * wave;
  return impedance_ * grid_ * squares;
}

double StruckUnison::felt_energy(double compression) const {
  return law_.stiffness * std::max(compression, 0.0) * law_.power.of(compression) /
         (law_.power.exponent() + 1);
}

// How far the strings can come towards the head. The strike point is where the waves of the last
// near delay have brought it, plus what lossy ends let it creep; since the head only pushes, that
// is away from it.
double StruckUnison::reach() const { return greatest_ * static_cast<double>(near_steps_) * grid_; }

void StruckUnison::ring_out(long long steps) {
  Waves waves{sent_.data(), sent_.data() + near_steps_, near_steps_, far_steps_, near_at_, far_at_,
              reflection_};
  double moved = 0;
  for (long long i = 0; i < steps; ++i) {
    const double near_in = waves.near_in();
    const double far_in = waves.far_in();
    moved += near_in + far_in;
    waves.send(far_in, near_in);
  }
  displacement_ += grid_ * moved;
  near_at_ = waves.near_at;
  far_at_ = waves.far_at;
}

void StruckUnison::let_ring(double seconds) {
  assert(seconds >= 0);
  force_ = force_rise_ = 0;
  const double time = lag_ + owed_ + seconds;
  owed_ = 0;
  if (greatest_ == 0) {
    lag_ = 0;  // strings at rest look the same at any time
    return;
  }
  const auto round = static_cast<long long>(sent_.size());
  const long long steps = whole_steps(time, grid_);
  lag_ = std::clamp(time - static_cast<double>(steps) * grid_, 0.0, grid_);
  const long long rounds = steps / round;
  if (rounds > 0) {
    const double left = std::pow(reflection_, 2 * static_cast<double>(rounds));
    greatest_ *= left;
    if (greatest_ < still_speed) {
      const double work = work_;
      rest();
      work_ = work;
      return;
    }
    for (double& wave : sent_) wave *= left;
    displacement_ *= left;
  }
  ring_out(steps % round);
}

Impulse StruckUnison::advance(double step, double crown_height, double crown_speed,
                              double other_acceleration, double effective_mass) {
  assert(step >= 0 && effective_mass > 0);
  Impulse result;
  const double highest = crown_height + std::max(crown_speed, 0.0) * step +
                         0.5 * std::max(other_acceleration, 0.0) * step * step;
  if (highest < -reach()) {
    owed_ += step;
    result.displacement = displacement_;
    return result;
  }
  if (owed_ > 0) let_ring(0);

  const double time = lag_ + step;
  const long long steps = whole_steps(time, grid_);
  const double new_lag = std::clamp(time - static_cast<double>(steps) * grid_, 0.0, grid_);

  const double per_impedance = 0.5 / impedance_;
  const double per_mass = 1 / effective_mass;
  const double yielding = grid_ * (per_impedance + 0.5 * grid_ * per_mass);
  Waves waves{sent_.data(), sent_.data() + near_steps_, near_steps_, far_steps_, near_at_, far_at_,
              reflection_};

  // The caller's head, taken back to where the strings are; `given` and `shift` hold what the
  // strings change of its speed and place.
  double free_speed = crown_speed - other_acceleration * lag_;
  const double height = crown_height - lag_ * (crown_speed - 0.5 * other_acceleration * lag_);
  double given = 0;
  double shift = 0;
  strings::Compressed felt = strings::compressed(law_, height - displacement_);
  double force_sum = 0;
  double work_sum = 0;
  long long touched = 0;
  for (long long i = 0; i < steps; ++i) {
    const double near_in = waves.near_in();
    const double far_in = waves.far_in();
    const double arriving = near_in + far_in;
    const double speed = free_speed - given;
    const double head_way = grid_ * (speed + 0.5 * grid_ * other_acceleration);
    const strings::FeltEnd end = strings::solve_felt(
        law_, felt, felt.by + head_way - grid_ * arriving, yielding, force_ + force_rise_);
    const double string_speed = end.force * per_impedance + arriving;
    const double near_out = string_speed - near_in;
    const double far_out = string_speed - far_in;
    waves.send(near_out, far_out);
    displacement_ += grid_ * string_speed;
    shift += grid_ * (given + 0.5 * grid_ * end.force * per_mass);
    given += grid_ * end.force * per_mass;
    free_speed += grid_ * other_acceleration;
    felt = end.end;
    force_rise_ = end.force - force_;
    force_ = end.force;
    force_sum += end.force;
    if (end.force > 0) {
      ++touched;
      work_sum += end.force * string_speed;
      greatest_ = std::max({greatest_, std::abs(near_out), std::abs(far_out)});
      result.peak_force = std::max(result.peak_force, end.force);
    }
  }
  near_at_ = waves.near_at;
  far_at_ = waves.far_at;
  lag_ = new_lag;
  work_ += grid_ * work_sum;

  result.impulse = grid_ * force_sum;
  result.crown_shift = shift + given * new_lag;
  result.contact_time = grid_ * static_cast<double>(touched);
  result.work = grid_ * work_sum;
  result.displacement = displacement_;
  result.touching = force_ > 0;
  return result;
}

}  // namespace batten

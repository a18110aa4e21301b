// The force between felt and string over one step, solved together with the compression at its end.
// Internal to core/strings.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

namespace batten::strings {

// d^p for one p, faster for a d near one whose power is known.
class Power {
 public:
  explicit Power(double exponent) : exponent_(exponent) {
    double coefficient = 1;
    for (std::size_t k = 0; k < binomial_.size(); ++k) {
      const double order = static_cast<double>(k);
      coefficient *= (exponent - order) / (order + 1);
      binomial_[k] = coefficient;
    }
  }

  double exponent() const { return exponent_; }

  // d^p for d > 0, else 0.
  double of(double d) const { return d > 0 ? std::pow(d, exponent_) : 0; }

  // d^p, from d0^p = g0 where d0 > 0. Within a thirty-second of d0 by the binomial series
  // (1 + x)^p to x^7, which leaves 1e-14 of it for exponents up to 6; in pairs, because a chain of
  // multiplications would take as long as std::pow. A contact calls that at its ends only.
  double of(double d, double d0, double g0) const {
    const double change = d - d0;
    if (!(std::abs(change) * 32 <= d0)) return of(d);
    const double x = change / d0;
    const double x2 = x * x;
    const std::array<double, 7>& b = binomial_;
    const double low = (1 + b[0] * x) + x2 * (b[1] + b[2] * x);
    const double high = (b[3] + b[4] * x) + x2 * (b[5] + b[6] * x);
    return g0 * (low + x2 * x2 * high);
  }

 private:
  double exponent_;
  std::array<double, 7> binomial_{};
};

struct FeltLaw {
  double stiffness;       // N/m^p, whole unison
  double recovery_steps;  // recovery time over step
  Power power;
};

// Compression (m, negative: apart), its power and that power's slope.
struct Compressed {
  double by = 0;
  double power = 0;
  double slope = 0;
};

inline Compressed compressed(const FeltLaw& law, double by) {
  const double power = law.power.of(by);
  return {by, power, by > 0 ? law.power.exponent() * power / by : 0};
}

// Mean over a step from a to b of d^p, and its derivative by b. The mean makes force times change
// of compression equal the change of felt energy exactly, whatever the step (the "discrete
// gradient" of Gonzalez, J. Nonlinear Sci. 6 (1996) 449, here for one variable).
struct MeanPower {
  double value;
  double slope;
};

inline MeanPower mean_power(const Compressed& a, const Compressed& b, double exponent) {
  if (a.by <= 0 && b.by <= 0) return {0, 0};
  const double change = b.by - a.by;
  // Nearly equal ends would cancel; there the trapezoid with its end correction (Abramowitz &
  // Stegun 25.4.4) errs by less than change^4 / 100.
  if (std::abs(change) * 200 <= b.by)
    return {0.5 * (a.power + b.power) - change * (b.slope - a.slope) / 12, 0.5 * b.slope};
  const double value =
      (std::max(b.by, 0.0) * b.power - std::max(a.by, 0.0) * a.power) / ((exponent + 1) * change);
  return {value, (b.power - value) / change};
}

struct FeltEnd {
  double force;  // N, mean over the step
  Compressed end;
};

// Solves F = felt(start -> end) with end = free_end - yielding * F. `free_end` is the compression
// the step would end with if there were no force, `yielding` (m/N, positive) what both sides give
// way under it, `guess` a force to start from. The felt only pushes: F >= 0.
//
// Newton from any start: the felt's force is convex in the end, so after one step all iterates lie
// on one side of the root. It stops when the last correction moved the compression by less than a
// hundred-thousandth, which leaves 1e-9 of the force; with a guess extrapolated from the steps
// before, one round is the rule.
inline FeltEnd solve_felt(const FeltLaw& law, const Compressed& start, double free_end,
                          double yielding, double guess) {
  if (start.by <= 0 && free_end <= 0) return {0, {free_end, 0, 0}};
  constexpr int most_rounds = 60;
  const double p = law.power.exponent();
  double force = std::max(guess, 0.0);
  Compressed end;
  for (int round = 0; round < most_rounds; ++round) {
    end.by = free_end - yielding * force;
    end.power = law.power.of(end.by, start.by, start.power);
    end.slope = end.by > 0 ? p * end.power / end.by : 0;
    const MeanPower mean = mean_power(start, end, p);
    const double felt =
        law.stiffness * (mean.value + law.recovery_steps * (end.power - start.power));
    const double slope = law.stiffness * (mean.slope + law.recovery_steps * end.slope);
    const double next = std::max(force - (force - felt) / (1 + yielding * slope), 0.0);
    const double moved = yielding * (force - next);
    force = next;
    if (std::abs(moved) <= 1e-5 * std::max(end.by, 0.0) || (next == 0 && moved == 0)) {
      end.by += moved;
      end.power += end.slope * moved;
      break;
    }
  }
  return {force, end};
}

}  // namespace batten::strings

#include "core/numerics/distributions.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace batten {
namespace {

constexpr int most_terms = 10000;
constexpr double enough = 1e-15, tiny = 1e-300;

double not_zero(double x) { return std::abs(x) < tiny ? tiny : x; }

// Modified Lentz's method for the continued fraction of I_x(a, b), x < (a + 1)/(a + b + 2).
double beta_fraction(double a, double b, double x) {
  double c = 1, d = 1 / not_zero(1 - (a + b) * x / (a + 1)), f = d;
  for (int m = 1; m < most_terms; ++m) {
    const auto step = [&](double numerator) {
      d = 1 / not_zero(1 + numerator * d);
      c = not_zero(1 + numerator / c);
      f *= d * c;
      return d * c;
    };
    step(m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)));
    const double last = step(-(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)));
    if (std::abs(last - 1) < enough) break;
  }
  return f;
}

double beta_share(double a, double b, double x) {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - beta_share(b, a, 1 - x);
  const double front = std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) +
                                a * std::log(x) + b * std::log1p(-x));
  return front * beta_fraction(a, b, x) / a;
}

double gamma_above(double a, double x) {
  if (x <= 0) return 1;
  const double front = std::exp(a * std::log(x) - x - std::lgamma(a));
  if (x < a + 1) {
    double term = 1 / a, sum = term;
    for (int n = 1; n < most_terms && term > sum * enough; ++n) sum += term *= x / (a + n);
    return 1 - front * sum;
  }
  double b = x + 1 - a, c = 1 / tiny, d = 1 / not_zero(b), f = d;
  for (int n = 1; n < most_terms; ++n) {
    const double numerator = -n * (n - a);
    b += 2;
    d = 1 / not_zero(numerator * d + b);
    c = not_zero(b + numerator / c);
    f *= d * c;
    if (std::abs(d * c - 1) < enough) break;
  }
  return front * f;
}

}  // namespace

double normal_beyond(double z) { return std::erfc(std::abs(z) / std::numbers::sqrt2); }

double student_beyond(double t, double degrees) {
  return beta_share(degrees / 2, 0.5, degrees / (degrees + t * t));
}

double chi_squared_above(double x, double degrees) { return gamma_above(degrees / 2, x / 2); }

std::vector<bool> findings_at_rate(std::span<const double> chances, double rate) {
  std::vector<double> rising;
  for (const double p : chances)
    if (std::isfinite(p)) rising.push_back(p);
  std::ranges::sort(rising);
  double limit = -1;
  for (std::size_t i = 0; i < rising.size(); ++i)
    if (rising[i] <= rate * static_cast<double>(i + 1) / static_cast<double>(rising.size()))
      limit = rising[i];
  std::vector<bool> found;
  for (const double p : chances) found.push_back(p <= limit);
  return found;
}

}  // namespace batten

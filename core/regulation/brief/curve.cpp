#include "core/regulation/brief/curve.hpp"

#include "core/regulation/brief/surface.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <utility>

namespace batten::brief {

double Polynomial::operator()(double x) const {
  if (!known()) return std::nan("");
  const double t = (x - centre_) / scale_;
  double value = 0;
  for (std::size_t k = coefficients_.size(); k-- > 0;) value = value * t + coefficients_[k];
  return value;
}

Polynomial fit_polynomial(const std::vector<double>& x, const std::vector<double>& y) {
  assert(x.size() == y.size());
  Polynomial p;
  if (x.size() < 3) return p;
  const auto [low, high] = std::ranges::minmax(x);
  if (!(high > low)) return p;
  p.centre_ = 0.5 * (low + high);
  p.scale_ = 0.5 * (high - low);
  const auto rows = static_cast<Eigen::Index>(x.size());
  const Eigen::Index terms = std::clamp<Eigen::Index>(rows - 1, 2, 4);
  Eigen::MatrixXd columns(rows, terms);
  Eigen::VectorXd values(rows);
  for (Eigen::Index i = 0; i < rows; ++i) {
    const auto k = static_cast<std::size_t>(i);
    const double t = (x[k] - p.centre_) / p.scale_;
    double power = 1;
    for (Eigen::Index j = 0; j < terms; ++j, power *= t) columns(i, j) = power;
    values(i) = y[k];
  }
  const Eigen::VectorXd found = fit(columns, values);
  p.coefficients_.assign(found.begin(), found.end());
  return p;
}

namespace {

// Slope at an end by three points, held to the way its neighbours go.
double end_slope(double h0, double h1, double d0, double d1) {
  const double slope = ((2 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
  if (slope * d0 <= 0) return 0;
  if (d0 * d1 < 0 && std::abs(slope) > 3 * std::abs(d0)) return 3 * d0;
  return slope;
}

}  // namespace

SmoothCurve::SmoothCurve(const std::vector<double>& x, std::vector<double> y)
    : x_(x), y_(std::move(y)), slope_(x.size(), 0) {
  assert(x_.size() == y_.size() && x_.size() >= 2);
  const std::size_t n = x_.size();
  std::vector<double> h(n - 1), d(n - 1);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    h[i] = x_[i + 1] - x_[i];
    d[i] = (y_[i + 1] - y_[i]) / h[i];
  }
  for (std::size_t i = 1; i + 1 < n; ++i) {
    // Beside a missing point: the slope of the side that is there.
    if (std::isnan(d[i - 1]) || std::isnan(d[i])) {
      slope_[i] = std::isnan(d[i]) ? d[i - 1] : d[i];
    } else if (d[i - 1] * d[i] > 0) {
      const double a = 2 * h[i] + h[i - 1], b = h[i] + 2 * h[i - 1];
      slope_[i] = (a + b) / (a / d[i - 1] + b / d[i]);
    }
  }
  if (n == 2) {
    slope_[0] = slope_[1] = d[0];
    return;
  }
  slope_[0] = end_slope(h[0], h[1], d[0], d[1]);
  slope_[n - 1] = end_slope(h[n - 2], h[n - 3], d[n - 2], d[n - 3]);
}

double SmoothCurve::operator()(double x) const {
  const std::size_t n = x_.size();
  if (x <= x_.front()) return y_.front() + slope_.front() * (x - x_.front());
  if (x >= x_.back()) return y_.back() + slope_.back() * (x - x_.back());
  const auto above = static_cast<std::size_t>(std::ranges::upper_bound(x_, x) - x_.begin());
  const std::size_t k = std::min(above, n - 1) - 1;
  const double h = x_[k + 1] - x_[k], t = (x - x_[k]) / h, u = 1 - t;
  return y_[k] * (1 + 2 * t) * u * u + h * slope_[k] * t * u * u + y_[k + 1] * t * t * (3 - 2 * t) -
         h * slope_[k + 1] * t * t * u;
}

}  // namespace batten::brief

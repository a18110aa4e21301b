#include "core/regulation/drift/climate.hpp"

#include "core/regulation/drift/civil.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace batten::drift {

namespace {

// USDA Wood Handbook, table 4-2, rounded as technicians' sheets have it.
constexpr std::array<std::pair<double, double>, 4> points{{{30, 6}, {50, 9}, {65, 12}, {80, 16}}};

// Estimates, no source. Days in which wood of an action follows the air; days a spell of weather
// and heating lasts, and its size, % RH; what a hygrometer is off by.
constexpr double lag = 21, spell_days = 12, spell = 6, hygrometer = 3;
constexpr double omega = 2 * std::numbers::pi / days_per_year;
// Share of a spell's variance that comes through to the wood; and of what is read that day.
constexpr double through = spell_days / (spell_days + lag);

// A heated house of the north unless the user says: driest in the middle of February (estimates).
constexpr double usual_mean = 50, usual_mean_sd = 6, usual_swing = 7, usual_swing_sd = 5;
constexpr double said_mean_sd = 2.5, said_swing_sd = 2, said_phase_sd = 1;
constexpr double driest_day = 45;  // of the year

double day_of_month_middle(int month) { return (month - 0.5) * days_per_month; }

// % moisture content per % relative humidity about a humidity.
double slope_at(double humidity) {
  return (moisture_at(humidity + 5) - moisture_at(humidity - 5)) / 10;
}

}  // namespace

double moisture_at(double humidity) {
  std::size_t i = 1;
  while (i + 1 < points.size() && humidity > points[i].first) ++i;
  const auto [x0, y0] = points[i - 1];
  const auto [x1, y1] = points[i];
  return std::clamp(y0 + (humidity - x0) * (y1 - y0) / (x1 - x0), 0.0, 30.0);
}

Climate::Climate(const std::optional<RoomYear>& said, const std::vector<HumidityRead>& read) {
  const double swing = said ? (said->dampest - said->driest) / 2 : usual_swing;
  const double day =
      said && said->driest_month ? day_of_month_middle(*said->driest_month) : driest_day;
  const double phase = omega * day;
  mean_ << (said ? (said->dampest + said->driest) / 2 : usual_mean), -swing * std::cos(phase),
      -swing * std::sin(phase);
  // The swing's two parts: along the phase the size is unsure, across it the date.
  const double along = said ? said_swing_sd : usual_swing_sd;
  const double across = said && said->driest_month ? std::hypot(said_phase_sd, 0.3 * swing)
                        : said                     ? 0.6 * swing + 1
                                                   : usual_swing_sd;
  const Eigen::Vector2d a(std::cos(phase), std::sin(phase)), b(-a.y(), a.x());
  cov_.setZero();
  cov_(0, 0) = said ? said_mean_sd * said_mean_sd : usual_mean_sd * usual_mean_sd;
  cov_.bottomRightCorner<2, 2>() =
      along * along * a * a.transpose() + across * across * b * b.transpose();
  const double noise = spell * spell + hygrometer * hygrometer;
  for (const HumidityRead& r : read) {
    const Eigen::Vector3d h(1, std::cos(omega * r.day), std::sin(omega * r.day));
    const Eigen::Vector3d gain = cov_ * h / (h.dot(cov_ * h) + noise);
    mean_ += gain * (r.humidity - h.dot(mean_));
    const Eigen::Vector3d row = cov_ * h;
    cov_ -= gain * row.transpose();
  }
  factor_ = Eigen::LLT<Eigen::Matrix3d>(cov_).matrixL();
}

double Climate::humidity(double day, const Eigen::Vector3d& c, bool lagged) const {
  // A first-order lag turns the yearly swing back and shrinks it.
  const double wt = lagged ? omega * lag : 0;
  const double angle = omega * day - std::atan(wt), gain = 1 / std::hypot(1, wt);
  return c(0) + gain * (c(1) * std::cos(angle) + c(2) * std::sin(angle));
}

double Climate::moisture(double day) const { return moisture_at(humidity(day, mean_, true)); }

double Climate::moisture(double day, const Eigen::Vector3d& z) const {
  return moisture_at(humidity(day, mean_ + factor_ * z, true));
}

double Climate::departure(std::optional<double> read, double day) const {
  if (!read) return 0;
  const double expected = humidity(day, mean_, false);
  const Eigen::Vector3d h(1, std::cos(omega * day), std::sin(omega * day));
  const double spell_var = spell * spell;
  // What is off is spell, hygrometer or a wrong belief of the year.
  const double share = spell_var / (spell_var + hygrometer * hygrometer + h.dot(cov_ * h));
  return slope_at(expected) * through * share * (*read - expected);
}

double Climate::left_of_departure(double days) {
  return std::exp(-std::max(0.0, days) / (spell_days + lag));
}

double Climate::spell_sd(bool read) const {
  const double told = through * spell * spell / (spell * spell + hygrometer * hygrometer);
  return slope_at(mean_(0)) * spell * std::sqrt(through * (read ? 1 - told : 1));
}

double Climate::year_var(double from, double to) const {
  double sum = 0;
  for (Eigen::Index i = 0; i < 3; ++i) {
    const Eigen::Vector3d z = Eigen::Vector3d::Unit(i);
    const double change = moisture(to, z) - moisture(to) - (moisture(from, z) - moisture(from));
    sum += change * change;
  }
  return sum;
}

double Climate::swing() const {
  const double gain = 1 / std::hypot(1, omega * lag);
  const double half = gain * std::hypot(mean_(1), mean_(2));
  return moisture_at(mean_(0) + half) - moisture_at(mean_(0) - half);
}

}  // namespace batten::drift

// The room's year and the wood's moisture content that follows it. Internal to
// core/regulation/drift.
//
// Relative humidity = mean + a yearly swing + spells of days; the wood's moisture content is what
// it would come to at the humidity, lagging by weeks. Swing and mean are learned from what was read
// (linear, Gaussian).
#pragma once

#include "core/regulation/drift/settings.hpp"

#include <Eigen/Core>

#include <optional>
#include <vector>

namespace batten::drift {

// Percent moisture content wood comes to at a relative humidity in percent (20 °C); straight
// between 30 → 6, 50 → 9, 65 → 12, 80 → 16 and on beyond them, from 0 to 30.
double moisture_at(double humidity);

struct HumidityRead {
  double day = 0;       // since 1970-01-01
  double humidity = 0;  // %
};

class Climate {
 public:
  // Humidities in any order.
  Climate(const std::optional<RoomYear>& said, const std::vector<HumidityRead>& read);

  // The yearly part of the wood's moisture content, %.
  double moisture(double day) const;
  // The same were mean and swing other than believed: by `z` standard deviations, independent.
  double moisture(double day, const Eigen::Vector3d& z) const;
  // What a reading on that day tells besides: expected departure from the yearly part. 0 without.
  double departure(std::optional<double> humidity, double day) const;
  // How much of a departure is left so many days later, 1…0.
  static double left_of_departure(double days);
  // Standard deviation of what spells leave unknown, with a reading that day and without.
  double spell_sd(bool read) const;
  // Variance of the yearly part's change between two days, %², mean and swing being unsure.
  double year_var(double from, double to) const;
  // From the driest to the dampest of the year, moisture content, %; ≥ 0.
  double swing() const;
  const Eigen::Vector3d& mean() const { return mean_; }  // mean, cosine, sine; % RH
  const Eigen::Matrix3d& covariance() const { return cov_; }

 private:
  double humidity(double day, const Eigen::Vector3d& c, bool lagged) const;
  Eigen::Vector3d mean_;
  Eigen::Matrix3d cov_, factor_;
};

}  // namespace batten::drift

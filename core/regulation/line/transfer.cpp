#include "core/regulation/line/transfer.hpp"

#include <algorithm>
#include <cmath>

namespace batten::line {

namespace {
constexpr double tilt_sd = 0.5;  // mm from the middle to either end
}

Transfer::Transfer(Compass compass, const std::vector<HeightReading>& readings)
    : compass_(compass) {
  // Normal equations of two unknowns, the prior on b as one more observation.
  double s0 = 0, s1 = 0, s2 = 1 / (tilt_sd * tilt_sd), t0 = 0, t1 = 0;
  for (const HeightReading& r : readings) {
    const double sd = r.uncertainty.in(millimetre);
    const double w = 1 / (sd * sd), x = place(r.key), y = r.height.in(millimetre);
    s0 += w;
    s1 += w * x;
    s2 += w * x * x;
    t0 += w * y;
    t1 += w * x * y;
  }
  const double det = s0 * s2 - s1 * s1;
  if (!(det > 0)) return;  // no readings
  a_ = (s2 * t0 - s1 * t1) / det;
  b_ = (s0 * t1 - s1 * t0) / det;

  double chi2 = b_ * b_ / (tilt_sd * tilt_sd);
  for (const HeightReading& r : readings) {
    const double z =
        (r.height.in(millimetre)-a_ - b_ * place(r.key)) / r.uncertainty.in(millimetre);
    chi2 += z * z;
  }
  // Two unknowns, but the prior counts as an observation: n − 1 degrees of freedom.
  const double freedom = static_cast<double>(readings.size()) - 1;
  const double widen = freedom > 0 ? std::max(1.0, chi2 / freedom) : 1.0;
  var_a_ = widen * s2 / det;
  var_b_ = widen * s0 / det;
  cov_ab_ = -widen * s1 / det;
}

double Transfer::place(Key key) const {
  return 2.0 * compass_.position(key) / std::max(1, compass_.count() - 1) - 1;
}

Length Transfer::offset(Key key) const { return (a_ + b_ * place(key)) * millimetre; }

Length Transfer::sd(Key key) const {
  const double x = place(key);
  return std::sqrt(std::max(0.0, var_a_ + 2 * x * cov_ab_ + x * x * var_b_)) * millimetre;
}

namespace {
constexpr int transfers_needed = 3;
}

TransferEstimate estimate_transfer(Compass compass, bool needed,
                                   const std::vector<HeightReading>& readings,
                                   const Transfer& transfer) {
  TransferEstimate t;
  t.needed = needed;
  std::vector<Key> keys;
  for (const HeightReading& r : readings) keys.push_back(r.key);
  std::sort(keys.begin(), keys.end());
  t.readings = static_cast<int>(std::unique(keys.begin(), keys.end()) - keys.begin());
  t.ready = !t.needed || t.readings >= transfers_needed;
  if (readings.empty()) return t;
  t.offset_at_lowest = transfer.offset(compass.lowest);
  t.offset_at_highest = transfer.offset(compass.highest);
  t.sd_middle = transfer.sd(compass.at(compass.count() / 2));
  t.sd_ends = std::max(transfer.sd(compass.lowest), transfer.sd(compass.highest));
  return t;
}

}  // namespace batten::line

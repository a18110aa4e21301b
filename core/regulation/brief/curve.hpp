// Curves through few solved points. Internal to core/regulation/brief.
#pragma once

#include <vector>

namespace batten::brief {

// A cubic at most, by least squares; a lower degree where points are few.
class Polynomial {
 public:
  bool known() const { return !coefficients_.empty(); }
  double operator()(double x) const;  // NaN if not known

 private:
  friend Polynomial fit_polynomial(const std::vector<double>& x, const std::vector<double>& y);
  double centre_ = 0, scale_ = 1;
  std::vector<double> coefficients_;  // in (x − centre)/scale, rising powers
};
// Degree: points less two, 3 at most; two points or fewer are not enough.
Polynomial fit_polynomial(const std::vector<double>& x, const std::vector<double>& y);

// Through points (x rising), smooth, without rising or falling where they do not (Fritsch &
// Carlson, SIAM J. Numer. Anal. 17 (1980) 238, slopes by the weighted harmonic mean of Fritsch &
// Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300). NaN beside a point that is NaN; straight on
// beyond the ends.
class SmoothCurve {
 public:
  SmoothCurve(const std::vector<double>& x, std::vector<double> y);
  double operator()(double x) const;

 private:
  std::vector<double> x_, y_, slope_;
};

}  // namespace batten::brief

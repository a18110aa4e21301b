// How deep the key must go before the hammer lets go, over blow and let-off; and what the stroke is
// like there. Internal to core/regulation/brief.
//
// The escape depth does not hang on the dip: what the key meets at its bottom comes after. So the
// aftertouch anywhere is dip less escape depth, and few solutions cover the whole plane.
#pragma once

#include "core/regulation/brief/bench.hpp"

#include <Eigen/Core>

#include <span>

namespace batten {

struct EscapeSurface {
  bool found = false;     // the rest means something
  std::string hindrance;  // why not
  // Polynomials in x = (blow − centre)/2 mm, y = let-off − centre, z = margin − 1 mm: 1 x y x² xy
  // y² for the escape depth (mm), and z z² xz yz besides for what a stroke gives.
  double blow_centre = 0, let_off_centre = 0;
  Eigen::VectorXd escape, power, travel, timing;
  double residual = 0;              // mm, largest of the escape depth at the solved points
  action::Adjustments adjustments;  // of the solved point nearest to the sheet

  // mm
  double escape_depth(double blow, double let_off) const;
  // m/s loud, ms middling, ms middling, at an escape margin in mm.
  double calc_power(double blow, double let_off, double margin) const;
  double calc_travel(double blow, double let_off, double margin) const;
  double calc_timing(double blow, double let_off, double margin) const;
};

namespace brief {

// Over the bands of blow and let-off; strokes only if asked. Never fails; see `found`.
EscapeSurface calc_surface(const Bench& bench, bool with_strokes);

// Coefficients of columns by least squares; empty if they cannot be found.
Eigen::VectorXd fit(const Eigen::MatrixXd& columns, const Eigen::VectorXd& values);

}  // namespace brief

}  // namespace batten

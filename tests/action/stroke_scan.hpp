// One note struck and pressed over the whole range of efforts.
#pragma once

#include "checks.hpp"
#include "core/action/strokes.hpp"

#include <functional>
#include <utility>
#include <vector>

namespace batten::action::checks {

struct Scan {
  std::vector<Stroke> strokes;  // rising effort, hammer speeds from about 0.6 to 6 m/s

  // Linear in hammer speed between the two strokes around it; NaN outside them.
  double at(double hammer_speed, const std::function<double(const Stroke&)>& value) const;
  // Extremes over strokes whose hammer speed lies in [low, high].
  std::pair<double, double> range(double low, double high,
                                  const std::function<double(const Stroke&)>& value) const;
};
Scan scan(const Note& note, Touch touch);

// Key bottom less string contact, s.
double bottom_after_string(const Stroke& stroke);
// Greatest force of the finger before the key's bottom and the string, N.
double force_on_the_way(const Stroke& stroke);

// Hammer over key speed when the hammer is fastest.
double speed_ratio_at_let_off(const Stroke& stroke);

// Regression lines a HV^b of three grands, ms and m/s, and the span they leave at a speed.
struct Line {
  double factor, exponent;
};
struct Span {
  double low, high;
};
Span span_at(const Line (&lines)[3], double hammer_speed);

// Goebl, Bresin & Galembo, JASA 118 (2005) 1154: travel time pressed, struck; free flight pressed.
inline constexpr Line travel_pressed[3] = {{98.57, -0.7147}, {89.41, -0.5959}, {89.96, -0.5595}};
inline constexpr Line travel_struck[3] = {{65.19, -0.7268}, {57.43, -0.7748}, {58.39, -0.7377}};
inline constexpr Line flight_pressed[3] = {{1.63, -1.403}, {2.78, -1.266}, {3.21, -1.353}};

}  // namespace batten::action::checks

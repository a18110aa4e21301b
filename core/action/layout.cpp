#include "core/action/layout.hpp"

#include <cmath>

namespace batten::action {

namespace {

Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
Point operator*(double k, Point a) { return {k * a.x, k * a.y}; }
double dot(Point a, Point b) { return a.x * b.x + a.y * b.y; }
Point turned(double angle, Point a) {
  const double c = std::cos(angle), s = std::sin(angle);
  return {c * a.x - s * a.y, s * a.x + c * a.y};
}

// Angle the hammer has turned from rest when its crown is `below` the string.
double hammer_angle(const Dimensions& d, double below) {
  const double reach = std::hypot(d.hammer_length, d.hammer_bore);
  return std::asin((d.hammer_bore - below) / reach) - std::atan2(d.hammer_bore, d.hammer_length);
}

// The check's face: tangent to the tail where it holds the crown check_distance below the string
// with the key pressed to the design dip, brought back to the key's rest.
void place_check(const Dimensions& d, Layout& l) {
  // The front lies at negative x: pressing it turns the key counter-clockwise and lifts the rear.
  const double turn = std::asin(d.design_dip / d.key_front);
  const double held = hammer_angle(d, d.check_distance);
  const double rest = hammer_angle(d, d.design_blow);
  const Point normal_rest{-std::cos(d.check_angle), std::sin(d.check_angle)};
  const Point normal = turned(turn, normal_rest);
  const Point centre = l.hammer_pin + turned(held, {d.tail_x, d.tail_y});
  // Support point of the arc against the face, kept within its ends.
  const double wanted = std::atan2(-normal.y, -normal.x);
  double angle = wanted - held;
  angle = std::fmin(std::fmax(angle, d.tail_from), d.tail_to);
  const Point touching =
      centre + d.tail_radius * Point{std::cos(angle + held), std::sin(angle + held)};
  l.check = turned(-turn, touching);
  l.check_normal = normal_rest;
  l.tail_from = d.tail_from + rest;
  l.tail_to = d.tail_to + rest;
  l.tail = l.hammer_pin + turned(rest, {d.tail_x, d.tail_y});
}

}  // namespace

Result<Layout> lay_out(const Dimensions& d, const Adjustments& a) {
  Layout l;
  const double reach = std::hypot(d.hammer_length, d.hammer_bore);
  if (std::abs(d.hammer_bore - d.design_blow) >= reach ||
      std::abs(d.hammer_bore - d.check_distance) >= reach)
    return problem("The hammer cannot reach the string at the blow of the design.",
                   "Check hammer length, bore and blow.");
  l.balance = {0, 0};
  l.wippen_pin = {d.wippen_x, d.wippen_y};
  l.hammer_pin =
      l.wippen_pin + d.centres * Point{-std::cos(d.centres_angle), std::sin(d.centres_angle)};
  l.string_height = l.hammer_pin.y + d.hammer_bore;

  const double rest = hammer_angle(d, d.design_blow);
  l.shank_along = turned(rest, {1, 0});
  l.shank_across = turned(rest, {0, 1});
  l.hinge = l.hammer_pin + d.shank_hinge * l.shank_along;
  l.head_foot = l.hammer_pin + d.hammer_length * l.shank_along;
  l.crown = l.head_foot + d.hammer_bore * l.shank_across;
  l.head_centre = l.head_foot + d.head_centre * l.shank_across;
  l.knuckle = l.hammer_pin + turned(rest, {d.knuckle_x, d.knuckle_y});

  l.jack_along = {std::sin(d.jack_lean), std::cos(d.jack_lean)};
  l.jack_across = {std::cos(d.jack_lean), -std::sin(d.jack_lean)};
  l.jack_pin = l.knuckle - d.jack_length * l.jack_along - d.jack_offset * l.jack_across;
  const double top = d.jack_length - d.knuckle_radius - d.jack_clearance;
  const double rear = d.jack_offset + d.jack_top_rear;
  // The box reaches far enough down that its underside never matters.
  l.jack_half_width = d.jack_top_width / 2;
  l.jack_half_height = 0.010;
  l.jack_angle = -d.jack_lean;
  l.jack_top = l.jack_pin + (top - l.jack_half_height) * l.jack_along +
               (rear - l.jack_half_width) * l.jack_across;
  l.toe = l.jack_pin + d.jack_toe * Point{-std::cos(d.jack_toe_angle), std::sin(d.jack_toe_angle)};
  l.button = {l.toe.x, l.toe.y + d.jack_toe_radius + button_clear - a.let_off_button};

  l.lever_normal = {std::sin(d.lever_tilt), std::cos(d.lever_tilt)};
  const Point lever_along{l.lever_normal.y, -l.lever_normal.x};  // to the rear
  l.lever_top = l.knuckle - d.knuckle_radius * l.lever_normal;
  l.lever_pin = l.lever_top + d.lever_pin_behind * lever_along - d.lever_pin_below * l.lever_normal;
  l.lever_tip = l.lever_top - d.lever_tip * lever_along - d.lever_tip_radius * l.lever_normal;
  l.drop = {l.lever_tip.x, l.lever_tip.y + d.lever_tip_radius + drop_clear - a.drop_screw};

  place_check(d, l);
  l.check = l.check + a.back_check * l.check_normal;

  const double tilt = d.heel_tilt;
  l.capstan = {d.capstan_x, d.capstan_y};
  l.heel_normal = {std::sin(tilt), -std::cos(tilt)};  // the heel's solid is above
  l.heel = l.capstan - d.capstan_radius * l.heel_normal;
  l.capstan.y += a.capstan;

  l.balance.y += a.balance_punchings;
  l.front_punching = {-d.front_rail,
                      -d.design_dip * d.front_rail / d.key_front + a.front_punchings};
  l.back_rest = {d.back_rail, 0};
  l.damper_foot = {d.damper_x, 0};
  l.key_floor = 0;

  // The cushion's face lies parallel to the shank at rest.
  l.cushion_normal = l.shank_across;
  l.cushion = l.hammer_pin + d.cushion_x * l.shank_along - (0.003 + d.cushion_gap) * l.shank_across;
  if (dot(l.jack_pin - l.wippen_pin, {1, 0}) >= 0)
    return problem("The jack's pin lies behind the wippen's.", "Check jack and wippen dimensions.");
  return l;
}

}  // namespace batten::action

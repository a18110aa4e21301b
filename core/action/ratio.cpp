// Rigid geometry at a state of the press: the local ratio, the static catch.
#include "core/action/slow.hpp"

#include <cmath>

namespace batten::action::slow {

namespace {

Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
Point operator*(double k, Point a) { return {k * a.x, k * a.y}; }
double dot(Point a, Point b) { return a.x * b.x + a.y * b.y; }
Point quarter(Point a) { return {-a.y, a.x}; }
Point turned(double angle, Point a) {
  const double c = std::cos(angle), s = std::sin(angle);
  return {c * a.x - s * a.y, s * a.x + c * a.y};
}

// Rear face of the wooden core in the knuckle behind the knuckle's centre, m (estimate).
constexpr double core_half_width = 0.0011;

// Stiffness (N/m) of a contact under a force (N).
double stiffness(const mechanism::LawNumbers<double>& law, double force) {
  if (force <= 0) return 0;
  const double power = 0.5 * law.half_powers;
  return power * law.stiffness * std::pow(force / law.stiffness, (power - 1) / power);
}

// A body on the wippen: where it is, how fast it turns, how stiffly it is held against turning.
struct Carried {
  Point pin, pin_speed;
  double speed = 0, hold = 0;
};

// Turns with the wippen as far as its stop and spring hold it, about its stopped end as far as that
// does.
Carried carry(Point pin, Point pin_speed, double wippen_speed, double stop_hold, Point end,
              double end_stiffness) {
  Carried c{pin, pin_speed};
  const double arm = end.x - pin.x;
  const double end_hold = end_stiffness * arm * arm;
  const double end_speed = -pin_speed.y / arm;
  c.hold = stop_hold + end_hold;
  c.speed = (stop_hold * wippen_speed + end_hold * end_speed) / c.hold;
  return c;
}

}  // namespace

Local calc_local(const Dimensions& d, const Layout& l, const mechanism::Model<double>& model,
                 const SweepPoint& row) {
  const double key = row.q[key_rear], wip = row.q[wippen];
  // All speeds are per metre of the front's way down.
  const double key_speed = 1 / (d.key_front * std::cos(key));
  const Point capstan = turned(key, l.capstan);  // from the key's pin
  const Point capstan_speed = key_speed * quarter(capstan);
  const Point heel_normal = turned(wip, l.heel_normal);
  const Point place = l.balance + Point{0, row.q[lift]} + capstan - l.wippen_pin;
  const double wippen_speed = dot(heel_normal, capstan_speed) / dot(heel_normal, quarter(place));

  const auto on_wippen = [&](Point p) { return turned(wip, p - l.wippen_pin); };
  const auto rate = [&](int stop, double force, double spring) {
    const auto& s = model.stops[static_cast<std::size_t>(stop)];
    return spring + s.slope * s.slope * stiffness(s.law, force);
  };
  const auto law = [&](int contact) -> const mechanism::LawNumbers<double>& {
    return model.contacts[static_cast<std::size_t>(contact)].law;
  };
  const Point jack_arm = on_wippen(l.jack_pin), lever_arm = on_wippen(l.lever_pin);
  const Point jack_pin = l.wippen_pin + jack_arm, lever_pin = l.wippen_pin + lever_arm;
  const Carried jack_body = carry(jack_pin, wippen_speed * quarter(jack_arm), wippen_speed,
                                  rate(jack_stop, row.jack_stop_force, d.jack_spring_rate),
                                  jack_pin + turned(row.q[jack], l.toe - l.jack_pin),
                                  stiffness(law(toe_button), row.toe_force));
  const Carried lever_body = carry(lever_pin, wippen_speed * quarter(lever_arm), wippen_speed,
                                   rate(lever_stop, row.lever_stop_force, d.lever_spring_rate),
                                   lever_pin + turned(row.q[lever], l.lever_tip - l.lever_pin),
                                   stiffness(law(tip_drop), row.tip_force));

  const Point knuckle = turned(row.q[shank], l.knuckle - l.hammer_pin);
  const Point centre = l.hammer_pin + knuckle;
  double sum = 0, weight = 0;
  // Returns how fast the body's surface rises along its normal.
  const auto push = [&](const Carried& body, Point normal, double force) {
    const Point arm = centre - body.pin;
    const double lever_of_force = dot(normal, quarter(arm));
    const double rise = dot(normal, body.pin_speed + body.speed * quarter(arm));
    const double felt = stiffness(law(jack_knuckle), force);
    if (felt <= 0) return rise;
    const double stiff = 1 / (1 / felt + lever_of_force * lever_of_force / body.hold);
    sum += stiff * rise / dot(normal, quarter(knuckle));
    weight += stiff;
    return rise;
  };
  // The jack's box as the knuckle's centre sees it: flat top, or a rounded corner.
  const double tilt = row.q[jack] + l.jack_angle;
  const Point seen =
      turned(-tilt, centre - jack_pin) - turned(-l.jack_angle, l.jack_top - l.jack_pin);
  const double qx = std::abs(seen.x) - (l.jack_half_width - d.jack_top_corner);
  const double qy = std::abs(seen.y) - (l.jack_half_height - d.jack_top_corner);
  Point normal{0, seen.y < 0 ? -1.0 : 1.0};
  if (qx > 0 && qy > 0) {
    const double length = std::hypot(qx, qy);
    normal = {(seen.x < 0 ? -qx : qx) / length, (seen.y < 0 ? -qy : qy) / length};
  } else if (qx > qy) {
    normal = {seen.x < 0 ? -1.0 : 1.0, 0};
  }
  Local out;
  out.jack_rate = push(jack_body, turned(tilt, normal), row.jack_force);
  const Point flat = turned(row.q[lever], l.lever_normal);
  push(lever_body, flat, row.lever_force);
  const Point crown = turned(row.q[shank], l.crown - l.hammer_pin);
  out.lever_rate = dot(flat, quarter(centre - lever_pin)) / dot(flat, quarter(knuckle)) * crown.x;
  if (weight > 0) out.ratio = sum / weight * crown.x;
  return out;
}

double static_catch(const Dimensions& d, const Layout& l, const SweepPoint& row) {
  const Point normal = turned(row.q[key_rear], l.check_normal);
  const Point face = l.balance + Point{0, row.q[lift]} + turned(row.q[key_rear], l.check);
  const Point tail = l.tail - l.hammer_pin, crown = l.crown - l.hammer_pin;
  const double facing = std::atan2(-normal.y, -normal.x);
  // Of the tail's point that is deepest in the face, or the nearer end, to the face.
  const auto gap = [&](double q) {
    const double angle = std::fmin(std::fmax(facing - q, l.tail_from), l.tail_to) + q;
    const Point rim =
        l.hammer_pin + turned(q, tail) + d.tail_radius * Point{std::cos(angle), std::sin(angle)};
    return dot(normal, rim - face);
  };
  const auto below = [&](double q) {
    return l.string_height - l.hammer_pin.y - turned(q, crown).y;
  };
  // From the string downward, a millimetre of the crown at a time.
  const double step = 1e-3 / d.hammer_length;
  double high = below(0) / d.hammer_length;
  double gap_high = gap(high);
  if (gap_high < 0) return 0;
  for (int k = 0; k < 60; ++k) {
    double low = high - step, gap_low = gap(low);
    if (gap_low >= 0) {
      high = low;
      gap_high = gap_low;
      continue;
    }
    for (int round = 0; round < 4; ++round) {
      const double q = low + (high - low) * gap_low / (gap_low - gap_high);
      const double g = gap(q);
      if (g < 0) {
        low = q;
        gap_low = g;
      } else {
        high = q;
        gap_high = g;
      }
    }
    return below(low + (high - low) * gap_low / (gap_low - gap_high));
  }
  return std::nan("");
}

double jack_position(const Layout& l, const SweepPoint& row) {
  const Point arm = turned(row.q[wippen], l.jack_pin - l.wippen_pin);
  const Point centre = l.hammer_pin + turned(row.q[shank], l.knuckle - l.hammer_pin);
  const Point seen = turned(-row.q[jack] - l.jack_angle, centre - l.wippen_pin - arm);
  const Point top = turned(-l.jack_angle, l.jack_top - l.jack_pin);
  return core_half_width - (top.x + l.jack_half_width - seen.x);
}

}  // namespace batten::action::slow

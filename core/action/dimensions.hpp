// The numbers that make one note of a grand action: lengths, masses, felts, springs, frictions.
//
// Axes as in core/mechanism: x from the player to the rear, y up, origin at the key's balance
// point; the posture described is the rest posture of the design, regulated to `design_blow`. Every
// number is an estimate that a user may edit or fit; docs/theory/action.md tells where each comes
// from.
#pragma once

#include "core/outcome/outcome.hpp"

#include <span>
#include <string_view>

namespace batten::action {

// SI units: m, kg, rad, N, N m, s.
struct Dimensions {
  // Key
  double key_front = 0.257;      // balance point to the playing point of the key's front
  double front_rail = 0.247;     // balance point to the front punching
  double back_rail = 0.235;      // balance point to the back rail cloth
  double key_mass = 0.130;       // without leads
  double key_inertia = 2.6e-3;   // about the balance point, without leads
  double lead_place = 0.16;      // leads in front of the balance point, one place for all of them
  double lead_mass = 0.05;       // kg; negative: behind it
  double key_bending = 1100;      // N m/rad at the balance point
  double key_friction = 0.0055;  // N m at the balance point
  double capstan_x = 0.13107, capstan_y = 0.0362, capstan_radius = 0.005;
  // Wippen
  double wippen_x = 0.19837, wippen_y = 0.0662;  // its pin
  double heel_tilt = 0.15;                       // of the heel's underside, + rising to the rear
  double wippen_mass = 0.0095, wippen_inertia = 1.1e-5, wippen_centre = 0.052;  // centre before pin
  double wippen_friction = 0.0020;
  // Hammer
  double centres = 0.1125;        // wippen pin to hammer pin
  double centres_angle = 0.548;   // of that line above the horizontal, seen from the wippen pin
  double hammer_length = 0.1315;  // hammer pin to the head's axis
  double hammer_bore = 0.052;     // shank's axis to the crown
  double design_blow = 0.0455;
  double knuckle_x = 0.0173, knuckle_y = -0.0062, knuckle_radius = 0.005;  // in the shank's frame
  double head_mass = 0.0085, head_inertia = 4.0e-6,
         head_centre = 0.034;  // centre from shank's axis
  double shank_mass = 0.0050;
  double shank_hinge = 0.055;  // where the shank's bending is put, from the pin
  double shank_bending = 15;   // N m/rad there
  double shank_loss = 0.0015;  // N m s/rad there
  double hammer_friction = 0.0009;
  // Jack
  double jack_length = 0.057;    // its pin to the knuckle's centre
  double jack_offset = -0.0010;  // knuckle's centre to the rear of the jack's axis
  double jack_lean = 0.3491;     // of the jack's axis to the rear of upright
  double jack_top_width = 0.0055, jack_top_rear = 0.0003, jack_top_corner = 0.0006;
  double jack_clearance = 0.00015;  // of the design: top below where it would touch
  double jack_toe = 0.014, jack_toe_angle = 0.25, jack_toe_radius = 0.0015;
  double jack_mass = 0.0040, jack_inertia = 1.6e-6, jack_centre = 0.020;
  double jack_spring = 0.005, jack_spring_rate = 0.02;  // N m pressing it forward, N m/rad
  double jack_stop_arm = 0.030;                         // of its button
  double jack_friction = 0.0003;
  // Repetition lever
  double lever_tilt = 0.3403;  // of its top's normal to the rear of upright
  double lever_pin_behind = 0.042, lever_pin_below = 0.004;  // from where the knuckle lies on it
  double lever_tip = 0.0145, lever_tip_radius = 0.0015;      // before where the knuckle lies on it
  double lever_mass = 0.0055, lever_inertia = 3.2e-6,
         lever_centre = 0.020;                            // centre before its pin
  double lever_spring = 0.039, lever_spring_rate = 0.05;  // N m pressing it up at rest, N m/rad
  double lever_stop_arm = 0.025;
  double lever_friction = 0.0004;
  // Tail and check
  double tail_x = 0.080, tail_y = 0.005, tail_radius = 0.060;  // arc, in the shank's frame
  double tail_from = -0.5585, tail_to = -0.0698;               // rad
  double check_angle = 0.349;                                  // of its face to the rear of upright
  double check_distance = 0.014;  // of the design: crown below the string, key at the design dip
  double design_dip = 0.010;
  // Rest cushion under the shank
  double cushion_x = 0.085, cushion_gap = 0.006;
  // Damper: mass felt at the key's tail, where the tail lifts it
  double damper_x = 0.261, damper_mass = 0.028, damper_friction = 0.04;  // N
  double damper_start = 0.5;  // of the design: share of the hammer's travel; > 1: no damper
  // Felts and leathers: force (N) at depth (m); exponents and losses in docs/theory/action.md
  double capstan_felt_force = 20, capstan_felt_depth = 0.0003;
  double knuckle_force = 20, knuckle_depth = 0.00025;
  double button_force = 10, button_depth = 0.00028;
  double drop_force = 10, drop_depth = 0.0003;
  double lever_stop_force = 10, lever_stop_depth = 0.0001;
  double jack_stop_force = 10, jack_stop_depth = 0.0002;
  double check_force = 30, check_depth = 0.0006, check_friction = 0.6;
  double front_felt_force = 20, front_felt_depth = 0.0006;
  double back_felt_force = 2, back_felt_depth = 0.0005;
  double cushion_force = 5, cushion_depth = 0.001;
  double capstan_friction_felt = 0.15, knuckle_friction_leather = 0.18, button_friction = 0.18;
  // Strings and felt of the head (docs/theory/string.md)
  double string_tension = 670, string_length = 0.62, string_mass = 0.00393, string_count = 3;
  double strike_point = 0.12;                          // share of the string's length
  double head_felt = 4.5e9, head_felt_exponent = 2.5;  // N/m^p per string
};

// One number of Dimensions: how it is written outside ("key-front", mm) and what it may be.
struct DimensionField {
  std::string_view code;
  std::string_view unit;  // "mm", "g", "gmm2", "deg", "N", "Nmm", …
  double unit_si;         // SI value of one unit
  double low, high;       // SI, both included
  double Dimensions::*member;
};
std::span<const DimensionField> dimension_fields();

// Error: the first number outside its range, with the range in its unit.
Result<void> check(const Dimensions& dimensions);

}  // namespace batten::action

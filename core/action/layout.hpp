// Where every part of a note lies in the rest posture of the design: what the solver and the
// drawing both start from.
#pragma once

#include "core/action/adjustments.hpp"
#include "core/action/dimensions.hpp"
#include "core/mechanism/mechanism.hpp"

namespace batten::action {

using mechanism::Point;

// World coordinates, m; directions are unit vectors.
struct Layout {
  Point balance;                                // key's pin
  Point capstan;                                // centre of its head
  Point wippen_pin, heel, heel_normal;          // a point of the heel's underside, normal outward
  Point hammer_pin, shank_along, shank_across;  // shank's axis toward the head; toward the crown
  Point hinge, crown, knuckle, head_centre, head_foot;  // head_foot: axis under the head
  double string_height = 0;
  Point jack_pin, jack_along, jack_across;  // up its axis; to the rear
  Point jack_top;                           // centre of its top's box
  double jack_half_width = 0, jack_half_height = 0, jack_angle = 0;
  Point toe, button;                         // centre of the toe; a point of the button's face
  Point lever_pin, lever_top, lever_normal;  // a point of its top; outward normal
  Point lever_tip, drop;                     // centre of the tip; a point of the screw's face
  Point tail;                                // centre of the tail's arc
  double tail_from = 0, tail_to = 0;         // rad, world
  Point check, check_normal;                 // a point of the face, normal toward the hammer
  Point front_punching, back_rest, cushion, cushion_normal, damper_foot;
  double key_floor = 0;  // underside of the key at rest
};

// The button and the screw lie this far over toe and tip at rest when their adjustment is zero.
inline constexpr double button_clear = 0.0095, drop_clear = 0.0080;

// Error: a design that cannot be put together (the crown does not reach, the jack too short …).
Result<Layout> lay_out(const Dimensions& dimensions, const Adjustments& adjustments);

}  // namespace batten::action

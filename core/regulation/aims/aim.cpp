#include "core/regulation/aims/aim.hpp"

#include <cassert>

namespace batten {

Reading reading_of(Aim aim, Key key) {
  switch (aim) {
    case Aim::key_height:
      return is_sharp(key) ? Reading::sharps_height : Reading::key_height;
    case Aim::jack_position:
      return Reading::jack_position;
    case Aim::jack_clearance:
      return Reading::jack_clearance;
    case Aim::spring_rise:
      return Reading::spring_rise;
    case Aim::blow:
      return Reading::blow;
    case Aim::dip:
      return is_sharp(key) ? Reading::sharp_dip : Reading::dip;
    case Aim::let_off:
      return Reading::let_off;
    case Aim::drop:
      return Reading::drop;
    case Aim::check_distance:
      return Reading::check_distance;
    case Aim::aftertouch:
      return Reading::aftertouch;
    case Aim::damper_start:
      return Reading::damper_start;
  }
  assert(false);
  return Reading::blow;
}

std::optional<Aim> aim_of(Reading reading) {
  switch (reading) {
    case Reading::key_height:
    case Reading::sharps_height:
      return Aim::key_height;
    case Reading::jack_position:
      return Aim::jack_position;
    case Reading::jack_clearance:
    case Reading::jack_wink:
      return Aim::jack_clearance;
    case Reading::spring_rise:
      return Aim::spring_rise;
    case Reading::hammer_height:
    case Reading::blow:
      return Aim::blow;
    case Reading::dip:
    case Reading::sharp_dip:
      return Aim::dip;
    case Reading::let_off:
      return Aim::let_off;
    case Reading::drop:
      return Aim::drop;
    case Reading::check_distance:
      return Aim::check_distance;
    case Reading::aftertouch:
      return Aim::aftertouch;
    case Reading::damper_start:
      return Aim::damper_start;
    default:
      return std::nullopt;
  }
}

Adjuster adjuster_for(Aim aim) {
  switch (aim) {
    case Aim::key_height:
      return Adjuster::balance_punchings;
    case Aim::jack_position:
      return Adjuster::jack_button;
    case Aim::jack_clearance:
      return Adjuster::lever_height_button;
    case Aim::spring_rise:
      return Adjuster::repetition_spring;
    case Aim::blow:
      return Adjuster::capstan;
    case Aim::dip:
    case Aim::aftertouch:
      return Adjuster::front_punchings;
    case Aim::let_off:
      return Adjuster::let_off_button;
    case Aim::drop:
      return Adjuster::drop_screw;
    case Aim::check_distance:
      return Adjuster::back_check;
    case Aim::damper_start:
      return Adjuster::damper_wire;
  }
  assert(false);
  return Adjuster::capstan;
}

Aim aim_for(Adjuster adjuster) {
  for (Aim aim : all_aims)
    if (aim != Aim::aftertouch && adjuster_for(aim) == adjuster) return aim;
  assert(false);
  return Aim::blow;
}

}  // namespace batten

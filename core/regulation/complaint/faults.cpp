#include "core/regulation/complaint/faults.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace batten::complaint {

namespace {

using action::Adjustments;
using action::Dimensions;

constexpr double mm = 1e-3;

// A displaced adjuster.
struct Displaced {
  Cause cause;
  double Adjustments::*adjuster;
  double sign;
  Sizes sizes;
};
// What they do at the medium profile's C4, so that sizes can be judged: 0.1 mm of capstan 1.06 mm
// of blow; 0.1 mm of let-off button 0.6 mm of let-off; 0.1 mm of drop screw 0.5 mm of drop; 0.1 mm
// at the lever's button 0.16 mm of jack clearance; 1 mm at the jack's 1.9 mm; 1 mm of check 5 mm.
// An earlier let-off than that is the lever's to carry on: then the drop is at fault, not let-off.
constexpr std::array displaced{
    Displaced{Cause::capstan_low, &Adjustments::capstan, -1, {0.08 * mm, 0.30 * mm}},
    Displaced{Cause::capstan_high, &Adjustments::capstan, +1, {0.08 * mm, 0.30 * mm}},
    Displaced{
        Cause::balance_punchings_short, &Adjustments::balance_punchings, -1, {0.15 * mm, 0.5 * mm}},
    Displaced{
        Cause::balance_punchings_over, &Adjustments::balance_punchings, +1, {0.15 * mm, 0.6 * mm}},
    Displaced{
        Cause::front_punchings_over, &Adjustments::front_punchings, +1, {0.25 * mm, 0.9 * mm}},
    Displaced{
        Cause::front_punchings_short, &Adjustments::front_punchings, -1, {0.25 * mm, 1.0 * mm}},
    Displaced{Cause::jack_toward_player, &Adjustments::jack_button, +1, {0.15 * mm, 0.6 * mm}},
    Displaced{Cause::jack_toward_hammer, &Adjustments::jack_button, -1, {0.15 * mm, 0.6 * mm}},
    Displaced{Cause::lever_high, &Adjustments::lever_button, +1, {0.08 * mm, 0.4 * mm}},
    Displaced{Cause::lever_low, &Adjustments::lever_button, -1, {0.08 * mm, 0.4 * mm}},
    Displaced{Cause::spring_weak, &Adjustments::spring, -1, {0.12, 0.6}},
    Displaced{Cause::spring_strong, &Adjustments::spring, +1, {0.15, 0.6}},
    Displaced{Cause::let_off_close, &Adjustments::let_off_button, -1, {0.10 * mm, 0.32 * mm}},
    Displaced{Cause::let_off_early, &Adjustments::let_off_button, +1, {0.10 * mm, 0.22 * mm}},
    Displaced{Cause::drop_small, &Adjustments::drop_screw, -1, {0.12 * mm, 0.45 * mm}},
    Displaced{Cause::drop_large, &Adjustments::drop_screw, +1, {0.12 * mm, 0.6 * mm}},
    Displaced{Cause::check_near, &Adjustments::back_check, +1, {0.5 * mm, 2.0 * mm}},
    Displaced{Cause::check_far, &Adjustments::back_check, -1, {0.6 * mm, 2.5 * mm}},
    Displaced{Cause::damper_early, &Adjustments::damper_wire, -1, {0.6 * mm, 2.0 * mm}},
    Displaced{Cause::damper_late, &Adjustments::damper_wire, +1, {0.6 * mm, 2.0 * mm}},
};

const Displaced* displacement(Cause cause) {
  const auto found = std::ranges::find(displaced, cause, &Displaced::cause);
  return found == displaced.end() ? nullptr : &*found;
}

// A number of the note times a factor, within what it may be.
void scale(Dimensions& d, double Dimensions::*member, double factor) {
  for (const action::DimensionField& f : action::dimension_fields())
    if (f.member == member) d.*member = std::clamp(d.*member * factor, f.low, f.high);
}

}  // namespace

Sizes sizes_of(Cause cause) {
  if (const Displaced* d = displacement(cause)) return d->sizes;
  switch (cause) {
    case Cause::hammer_centre_tight:
    case Cause::wippen_tight:
    case Cause::jack_sluggish:
    case Cause::lever_tight:
    case Cause::key_tight:
      return {2.0, 5.5};
    case Cause::hammer_centre_loose:
      return {2.0, 8.0};
    case Cause::knuckle_worn:
      return {1.4, 2.4};
    case Cause::touch_heavy:
    case Cause::touch_light:
      return {0.008, 0.022};
    default:
      assert(false);
      return {};
  }
}

double size_at(Cause cause, double u) {
  const Sizes s = sizes_of(cause);
  return s.low * std::pow(s.high / s.low, u);
}

bool can_have(const action::Note& note, Cause cause) {
  const bool of_damper = cause == Cause::damper_early || cause == Cause::damper_late;
  return !of_damper || note.dimensions.damper_start <= 1;
}

action::Note with_fault(const action::Note& note, Cause cause, double size) {
  action::Note out = note;
  if (const Displaced* d = displacement(cause)) {
    out.adjustments.*(d->adjuster) += d->sign * size;
    return out;
  }
  Dimensions& d = out.dimensions;
  switch (cause) {
    case Cause::hammer_centre_tight:
      scale(d, &Dimensions::hammer_friction, size);
      break;
    case Cause::hammer_centre_loose:
      scale(d, &Dimensions::hammer_friction, 1 / size);
      break;
    case Cause::wippen_tight:
      scale(d, &Dimensions::wippen_friction, size);
      break;
    case Cause::jack_sluggish:  // a tight pin, its spring tired with it
      scale(d, &Dimensions::jack_friction, size);
      scale(d, &Dimensions::jack_spring, 0.75);
      break;
    case Cause::lever_tight:
      scale(d, &Dimensions::lever_friction, size);
      break;
    case Cause::key_tight:
      scale(d, &Dimensions::key_friction, size);
      break;
    case Cause::knuckle_worn:  // rough leather, pressed flat by up to half a millimetre
      scale(d, &Dimensions::knuckle_friction_leather, size);
      scale(d, &Dimensions::knuckle_radius, 1 - 0.07 * (size - 1));
      break;
    case Cause::touch_heavy:
      d.lead_mass = std::max(-0.3, d.lead_mass - size);
      break;
    case Cause::touch_light:
      d.lead_mass = std::min(0.3, d.lead_mass + size);
      break;
    default:
      assert(false);
  }
  return out;
}

}  // namespace batten::complaint

#include "core/fit/task.hpp"

#include <numbers>
#include <utility>

namespace batten::fit {

namespace {

using D = action::Dimensions;
using Members = std::vector<double D::*>;
constexpr double mm = 0.001, percent = 0.01, degree = std::numbers::pi / 180;

Parameter length(std::string_view code, std::string_view name, double sd, Members members) {
  return {code, name, "mm", mm, Change::added, Course::even, sd, std::move(members), 0.5};
}
Parameter share(std::string_view code, std::string_view name, double sd, Members members,
                Course course = Course::even) {
  return {code, name, "%", percent, Change::scaled, course, sd, std::move(members), 0.5};
}

}  // namespace

std::vector<Parameter> standard_parameters() {
  return {
      // Lengths: actions alike in kind differ by about this much.
      length("key-front-arm", "balance point to the key's playing point", 5 * mm,
             {&D::key_front, &D::front_rail}),
      length("capstan-place", "balance point to the capstan", 3 * mm, {&D::capstan_x}),
      // The whole stack goes with it.
      length("wippen-place", "balance point to the wippen's pin", 3 * mm, {&D::wippen_x}),
      length("knuckle-arm", "hammer's pin to the knuckle", 0.6 * mm, {&D::knuckle_x}),
      length("hammer-length", "hammer's pin to the head", 1.5 * mm, {&D::hammer_length}),
      // What makes the ratio fall or rise over the stroke.
      {"knuckle-height",
       "knuckle's height in the shank's frame",
       "mm",
       mm,
       Change::added,
       Course::even,
       1.5 * mm,
       {&D::knuckle_y},
       0.2},
      {"lever-slope",
       "slope of the repetition lever's top",
       "deg",
       degree,
       Change::added,
       Course::even,
       3 * degree,
       {&D::lever_tilt},
       0.5},
      length("capstan-height", "capstan's height over the balance point", 3 * mm, {&D::capstan_y}),
      // Masses. Repetition springs are bent to their hammers, so they go with them.
      share("head-mass-bass", "mass of the heads, bass end", 0.10,
            {&D::head_mass, &D::head_inertia, &D::lever_spring}, Course::bass),
      share("head-mass-treble", "mass of the heads, treble end", 0.10,
            {&D::head_mass, &D::head_inertia, &D::lever_spring}, Course::treble),
      share("wippen-mass", "mass of the wippens", 0.15, {&D::wippen_mass, &D::wippen_inertia}),
      // Frictions: centre pins differ by half and more.
      share("key-friction", "friction at the key's pins", 0.4, {&D::key_friction}),
      share("wippen-friction", "friction at the wippen's pin", 0.4, {&D::wippen_friction}),
      share("hammer-friction", "friction at the hammer's pin", 0.4, {&D::hammer_friction}),
      share("felt-friction", "friction of capstan felt and knuckle leather", 0.3,
            {&D::capstan_friction_felt, &D::knuckle_friction_leather}),
      share("key-bending", "stiffness of the keys", 0.3, {&D::key_bending}),
  };
}

}  // namespace batten::fit

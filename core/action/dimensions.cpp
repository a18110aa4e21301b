#include "core/action/dimensions.hpp"

#include <cmath>
#include <string>

namespace batten::action {

namespace {

// Ranges are wide: they catch a slip of the hand or a wrong unit, not an unusual piano.
constexpr DimensionField fields[] = {
    {"key-front", "mm", 0.001, 0.1542, 0.4112, &Dimensions::key_front},
    {"front-rail", "mm", 0.001, 0.1482, 0.3952, &Dimensions::front_rail},
    {"back-rail", "mm", 0.001, 0.141, 0.376, &Dimensions::back_rail},
    {"key-mass", "g", 0.001, 0.013, 0.78, &Dimensions::key_mass},
    {"key-inertia", "gmm2", 1e-09, 0.00026, 0.0156, &Dimensions::key_inertia},
    {"lead-place", "mm", 0.001, 0.096, 0.256, &Dimensions::lead_place},
    {"lead-mass", "g", 0.001, -0.3, 0.3, &Dimensions::lead_mass},
    {"key-bending", "Nm/rad", 1, 96, 5760, &Dimensions::key_bending},
    {"key-friction", "Nmm", 0.001, 0.00055, 0.033, &Dimensions::key_friction},
    {"capstan-x", "mm", 0.001, 0.07864, 0.2097, &Dimensions::capstan_x},
    {"capstan-y", "mm", 0.001, 0.02172, 0.05792, &Dimensions::capstan_y},
    {"capstan-radius", "mm", 0.001, 0.0005, 0.015, &Dimensions::capstan_radius},
    {"wippen-x", "mm", 0.001, 0.119, 0.3174, &Dimensions::wippen_x},
    {"wippen-y", "mm", 0.001, 0.03972, 0.1059, &Dimensions::wippen_y},
    {"heel-tilt", "deg", 0.017453292519943295, -0.2, 0.5, &Dimensions::heel_tilt},
    {"wippen-mass", "g", 0.001, 0.00095, 0.057, &Dimensions::wippen_mass},
    {"wippen-inertia", "gmm2", 1e-09, 1.1e-06, 6.6e-05, &Dimensions::wippen_inertia},
    {"wippen-centre", "mm", 0.001, 0.0312, 0.0832, &Dimensions::wippen_centre},
    {"wippen-friction", "Nmm", 0.001, 0.0002, 0.012, &Dimensions::wippen_friction},
    {"centres", "mm", 0.001, 0.0675, 0.18, &Dimensions::centres},
    {"centres-angle", "deg", 0.017453292519943295, 0.198, 0.898, &Dimensions::centres_angle},
    {"hammer-length", "mm", 0.001, 0.0789, 0.2104, &Dimensions::hammer_length},
    {"hammer-bore", "mm", 0.001, 0.0312, 0.0832, &Dimensions::hammer_bore},
    {"design-blow", "mm", 0.001, 0.0273, 0.0728, &Dimensions::design_blow},
    {"knuckle-x", "mm", 0.001, 0.01038, 0.02768, &Dimensions::knuckle_x},
    {"knuckle-y", "mm", 0.001, -0.0162, 0.0038, &Dimensions::knuckle_y},
    {"knuckle-radius", "mm", 0.001, 0.0005, 0.015, &Dimensions::knuckle_radius},
    {"head-mass", "g", 0.001, 0.00085, 0.051, &Dimensions::head_mass},
    {"head-inertia", "gmm2", 1e-09, 4e-07, 2.4e-05, &Dimensions::head_inertia},
    {"head-centre", "mm", 0.001, 0.0204, 0.0544, &Dimensions::head_centre},
    {"shank-mass", "g", 0.001, 0.0005, 0.03, &Dimensions::shank_mass},
    {"shank-hinge", "mm", 0.001, 0.02, 0.09, &Dimensions::shank_hinge},
    {"shank-bending", "Nm/rad", 1, 0.9, 54, &Dimensions::shank_bending},
    {"shank-loss", "Nms/rad", 1, 0.00015, 0.009, &Dimensions::shank_loss},
    {"hammer-friction", "Nmm", 0.001, 9e-05, 0.0054, &Dimensions::hammer_friction},
    {"jack-length", "mm", 0.001, 0.0336, 0.0896, &Dimensions::jack_length},
    {"jack-offset", "mm", 0.001, -0.011, 0.009, &Dimensions::jack_offset},
    {"jack-lean", "deg", 0.017453292519943295, -0.0009, 0.6991, &Dimensions::jack_lean},
    {"jack-top-width", "mm", 0.001, 0.00055, 0.0155, &Dimensions::jack_top_width},
    {"jack-top-rear", "mm", 0.001, -0.0089, 0.0111, &Dimensions::jack_top_rear},
    {"jack-top-corner", "mm", 0.001, 6e-05, 0.0106, &Dimensions::jack_top_corner},
    {"jack-clearance", "mm", 0.001, 1.5e-05, 0.01015, &Dimensions::jack_clearance},
    {"jack-toe", "mm", 0.001, 0.0096, 0.0256, &Dimensions::jack_toe},
    {"jack-toe-angle", "deg", 0.017453292519943295, -0.1, 0.6, &Dimensions::jack_toe_angle},
    {"jack-toe-radius", "mm", 0.001, 0.00015, 0.0115, &Dimensions::jack_toe_radius},
    {"jack-mass", "g", 0.001, 0.0004, 0.024, &Dimensions::jack_mass},
    {"jack-inertia", "gmm2", 1e-09, 1.6e-07, 9.6e-06, &Dimensions::jack_inertia},
    {"jack-centre", "mm", 0.001, 0.012, 0.032, &Dimensions::jack_centre},
    {"jack-spring", "Nmm", 0.001, 0.0005, 0.03, &Dimensions::jack_spring},
    {"jack-spring-rate", "Nmm/rad", 0.001, 0.002, 0.12, &Dimensions::jack_spring_rate},
    {"jack-stop-arm", "mm", 0.001, 0.018, 0.048, &Dimensions::jack_stop_arm},
    {"jack-friction", "Nmm", 0.001, 3e-05, 0.0018, &Dimensions::jack_friction},
    {"lever-tilt", "deg", 0.017453292519943295, -0.0097, 0.6903, &Dimensions::lever_tilt},
    {"lever-pin-behind", "mm", 0.001, 0.0252, 0.0672, &Dimensions::lever_pin_behind},
    {"lever-pin-below", "mm", 0.001, 0.0004, 0.014, &Dimensions::lever_pin_below},
    {"lever-tip", "mm", 0.001, 0.0087, 0.0232, &Dimensions::lever_tip},
    {"lever-tip-radius", "mm", 0.001, 0.00015, 0.0115, &Dimensions::lever_tip_radius},
    {"lever-mass", "g", 0.001, 0.00055, 0.033, &Dimensions::lever_mass},
    {"lever-inertia", "gmm2", 1e-09, 3.2e-07, 1.92e-05, &Dimensions::lever_inertia},
    {"lever-centre", "mm", 0.001, 0.012, 0.032, &Dimensions::lever_centre},
    {"lever-spring", "Nmm", 0.001, 0.0037, 0.222, &Dimensions::lever_spring},
    {"lever-spring-rate", "Nmm/rad", 0.001, 0.005, 0.3, &Dimensions::lever_spring_rate},
    {"lever-stop-arm", "mm", 0.001, 0.015, 0.04, &Dimensions::lever_stop_arm},
    {"lever-friction", "Nmm", 0.001, 4e-05, 0.0024, &Dimensions::lever_friction},
    {"tail-x", "mm", 0.001, 0.048, 0.128, &Dimensions::tail_x},
    {"tail-y", "mm", 0.001, -0.005, 0.015, &Dimensions::tail_y},
    {"tail-radius", "mm", 0.001, 0.036, 0.096, &Dimensions::tail_radius},
    {"tail-from", "deg", 0.017453292519943295, -0.9085, -0.2085, &Dimensions::tail_from},
    {"tail-to", "deg", 0.017453292519943295, -0.4198, 0.2802, &Dimensions::tail_to},
    {"check-angle", "deg", 0.017453292519943295, -0.001, 0.699, &Dimensions::check_angle},
    {"check-distance", "mm", 0.001, 0.0084, 0.0224, &Dimensions::check_distance},
    {"design-dip", "mm", 0.001, 0.001, 0.02, &Dimensions::design_dip},
    {"cushion-x", "mm", 0.001, 0.051, 0.136, &Dimensions::cushion_x},
    {"cushion-gap", "mm", 0.001, 0.0006, 0.016, &Dimensions::cushion_gap},
    {"damper-x", "mm", 0.001, 0.1566, 0.4176, &Dimensions::damper_x},
    {"damper-mass", "g", 0.001, 0.0028, 0.168, &Dimensions::damper_mass},
    {"damper-friction", "N", 1, 0.004, 0.24, &Dimensions::damper_friction},
    {"damper-start", "", 1, 0.05, 99, &Dimensions::damper_start},
    {"capstan-felt-force", "N", 1, 2, 120, &Dimensions::capstan_felt_force},
    {"capstan-felt-depth", "mm", 0.001, 4e-05, 0.0104, &Dimensions::capstan_felt_depth},
    {"knuckle-force", "N", 1, 2, 120, &Dimensions::knuckle_force},
    {"knuckle-depth", "mm", 0.001, 3.5e-05, 0.01035, &Dimensions::knuckle_depth},
    {"button-force", "N", 1, 1, 60, &Dimensions::button_force},
    {"button-depth", "mm", 0.001, 2e-05, 0.0102, &Dimensions::button_depth},
    {"drop-force", "N", 1, 1, 60, &Dimensions::drop_force},
    {"drop-depth", "mm", 0.001, 3e-05, 0.0103, &Dimensions::drop_depth},
    {"lever-stop-force", "N", 1, 1, 60, &Dimensions::lever_stop_force},
    {"lever-stop-depth", "mm", 0.001, 1e-05, 0.0101, &Dimensions::lever_stop_depth},
    {"jack-stop-force", "N", 1, 1, 60, &Dimensions::jack_stop_force},
    {"jack-stop-depth", "mm", 0.001, 2e-05, 0.0102, &Dimensions::jack_stop_depth},
    {"check-force", "N", 1, 3, 180, &Dimensions::check_force},
    {"check-depth", "mm", 0.001, 6e-05, 0.0106, &Dimensions::check_depth},
    {"check-friction", "", 1, 0.06, 3.6, &Dimensions::check_friction},
    {"front-felt-force", "N", 1, 2, 120, &Dimensions::front_felt_force},
    {"front-felt-depth", "mm", 0.001, 6e-05, 0.0106, &Dimensions::front_felt_depth},
    {"back-felt-force", "N", 1, 0.2, 12, &Dimensions::back_felt_force},
    {"back-felt-depth", "mm", 0.001, 5e-05, 0.0105, &Dimensions::back_felt_depth},
    {"cushion-force", "N", 1, 0.5, 30, &Dimensions::cushion_force},
    {"cushion-depth", "mm", 0.001, 0.0001, 0.011, &Dimensions::cushion_depth},
    {"capstan-friction-felt", "", 1, 0.015, 0.9, &Dimensions::capstan_friction_felt},
    {"knuckle-friction-leather", "", 1, 0.018, 1.08, &Dimensions::knuckle_friction_leather},
    {"button-friction", "", 1, 0.018, 1.08, &Dimensions::button_friction},
    {"string-tension", "N", 1, 67, 4020, &Dimensions::string_tension},
    {"string-length", "mm", 0.001, 0.03, 3, &Dimensions::string_length},
    {"string-mass", "g", 0.001, 0.0001, 0.5, &Dimensions::string_mass},
    {"string-count", "", 1, 1, 3, &Dimensions::string_count},
    {"strike-point", "", 1, 0.02, 0.5, &Dimensions::strike_point},
    {"head-felt", "N/m^p", 1, 1e+07, 1e+14, &Dimensions::head_felt},
    {"head-felt-exponent", "", 1, 1.5, 4, &Dimensions::head_felt_exponent},
};

std::string number(double value) {
  std::string text = std::to_string(value);
  while (text.find('.') != std::string::npos && (text.back() == '0' || text.back() == '.')) {
    const bool point = text.back() == '.';
    text.pop_back();
    if (point) break;
  }
  return text;
}

}  // namespace

std::span<const DimensionField> dimension_fields() { return fields; }

Result<void> check(const Dimensions& dimensions) {
  for (const DimensionField& f : fields) {
    const double value = dimensions.*f.member;
    if (value >= f.low && value <= f.high) continue;
    const std::string unit = f.unit.empty() ? "" : " " + std::string(f.unit);
    return problem(std::string(f.code) + " is " + number(value / f.unit_si) + unit + ".",
                   "It must lie from " + number(f.low / f.unit_si) + " to " +
                       number(f.high / f.unit_si) + unit + ".");
  }
  return {};
}

}  // namespace batten::action

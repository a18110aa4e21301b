#include "core/regulation/drift/priors.hpp"

#include <cmath>

namespace batten::drift {

namespace {

using enum Reading;

// Wood across the grain, change per percent moisture content as a share of its size: USDA Wood
// Handbook (FPL-GTR-282), table 13-5; along the grain nothing that counts here.
constexpr double maple_radial = 0.00165, maple_tangential = 0.00353;
constexpr double spruce_radial = 0.0012, spruce_tangential = 0.0026;
// Sizes, mm, common practice, no source: rail of the key frame, key at its balance and capstan.
constexpr double rail_height = 25, key_depth = 23;
// Rise of a crown for a rise of its capstan (docs/theory/action.md; between 4 and 6).
constexpr double crown_gain = 5;
// How the rings stand is not known: middle of both ways, and half of what is between.
constexpr double maple = (maple_radial + maple_tangential) / 2;
constexpr double spruce = (spruce_radial + spruce_tangential) / 2;
constexpr double maple_sd = (maple_tangential - maple_radial) / 2;
constexpr double spruce_sd = (spruce_tangential - spruce_radial) / 2;

// The front of a key stands on rail and key; wood: 0.11 ± 0.04 mm per percent.
constexpr Effect front{rail_height * maple + key_depth * spruce,
                       rail_height* maple_sd + key_depth* spruce_sd};
// A key that swells lifts its capstan from the back rail and with it the crown, by 0.22 mm per
// percent; brackets, cushions and the strings' own rise take back an unknown part of it: half, give
// or take a third (estimate).
constexpr double crown_rise = crown_gain * key_depth * spruce;
constexpr Effect blow_season{-0.5 * crown_rise, crown_rise / 3};

// Columns: playing-in, season, wear; wander of a note, of a section; as found after years.
struct Row {
  Reading reading;
  Prior prior;
};
constexpr std::array rows{
    Row{blow, {{0.50, 0.35}, blow_season, {0.15, 0.15}, 0.15, 0.08, 1.2}},
    Row{key_height, {{-0.10, 0.10}, front, {-0.04, 0.05}, 0.06, 0.04, 0.5}},
    // Sharps are read over the naturals beside them, which stand on the same wood.
    Row{sharps_height, {{0, 0.05}, {0, 0.01}, {0, 0.03}, 0.05, 0.02, 0.5}},
    Row{dip, {{0.10, 0.08}, {-0.01, 0.02}, {0.04, 0.05}, 0.05, 0.03, 0.4}},
    Row{sharp_dip, {{0.10, 0.08}, {-0.01, 0.02}, {0.04, 0.05}, 0.05, 0.03, 0.4}},
    Row{let_off, {{0.15, 0.15}, {0.03, 0.04}, {0.08, 0.08}, 0.10, 0.05, 0.8}},
    Row{drop, {{0.15, 0.15}, {0.02, 0.03}, {0.05, 0.08}, 0.10, 0.05, 0.7}},
    // Dip and blow both grow, and the blow takes a fifth of itself (R1 of docs/theory/action.md).
    Row{aftertouch, {{0, 0.08}, {0.02, 0.025}, {0, 0.04}, 0.06, 0.03, 0.4}},
    Row{check_distance, {{0.50, 0.50}, {0, 0.10}, {0.30, 0.30}, 0.35, 0.15, 2.0}},
    Row{jack_clearance, {{-0.03, 0.03}, {0.005, 0.006}, {-0.01, 0.015}, 0.02, 0.012, 0.15}},
    Row{jack_position, {{0, 0.05}, {0, 0.02}, {0, 0.04}, 0.04, 0.02, 0.4}},
    Row{spring_rise, {{-0.20, 0.25}, {-0.02, 0.04}, {-0.15, 0.20}, 0.15, 0.08, 1.0}},
    Row{damper_start, {{0.010, 0.015}, {0, 0.006}, {0.010, 0.010}, 0.015, 0.008, 0.1}},
};

// Shares of each kind of felt in the readings it carries (estimates, no source).
struct FeltRow {
  std::string_view what;
  Reading reading;
  double share;
};
constexpr std::array felts{
    FeltRow{"hammers", blow, 0.15},        FeltRow{"hammers", let_off, 0.4},
    FeltRow{"hammers", drop, 0.1},         FeltRow{"hammers", check_distance, 0.2},
    FeltRow{"knuckles", blow, 0.35},       FeltRow{"knuckles", let_off, 0.3},
    FeltRow{"knuckles", drop, 0.3},        FeltRow{"knuckles", jack_clearance, 1},
    FeltRow{"knuckles", jack_position, 1}, FeltRow{"knuckles", spring_rise, 0.3},
    FeltRow{"knuckles", aftertouch, 0.3},  FeltRow{"cushions", blow, 0.3},
    FeltRow{"cushions", let_off, 0.2},     FeltRow{"cushions", drop, 0.2},
    FeltRow{"cushions", aftertouch, 0.3},  FeltRow{"key-cloth", blow, 0.2},
    FeltRow{"key-cloth", key_height, 1},   FeltRow{"key-cloth", sharps_height, 1},
    FeltRow{"key-cloth", dip, 1},          FeltRow{"key-cloth", sharp_dip, 1},
    FeltRow{"key-cloth", aftertouch, 0.8}, FeltRow{"checks", check_distance, 0.8},
    FeltRow{"dampers", damper_start, 1},
};

}  // namespace

double Effect::size() const { return std::hypot(mean, sd); }

std::optional<Prior> prior_of(Reading reading) {
  for (const Row& r : rows)
    if (r.reading == reading) return r.prior;
  return std::nullopt;
}

double felt_share(std::string_view what, Reading reading) {
  if (what == "all") return 1;
  for (const FeltRow& f : felts)
    if (f.what == what && f.reading == reading) return f.share;
  return 0;
}

}  // namespace batten::drift

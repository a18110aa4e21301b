// What is believed of drift before a piano has a past. Internal to core/regulation/drift.
#pragma once

#include "core/regulation/catalogue/readings.hpp"

#include <array>
#include <optional>
#include <string_view>

namespace batten::drift {

// Mean of a piano's effect and its standard deviation from piano to piano.
struct Effect {
  double mean = 0, sd = 0;
  // Size of the effect, from which the scatter between its sections and its notes is taken.
  double size() const;
};

// Reading's unit, signed as the reading. Only what is said to be wood in priors.cpp rests on a
// publication; the rest is an estimate, no source.
struct Prior {
  Effect playing_in;                     // from all new felt to felt that has settled
  Effect season;                         // per percent of the wood's moisture content
  Effect wear;                           // per 1000 hours played
  double wander = 0, wander_shared = 0;  // after a year: of one note, of a section together
  double found = 0;  // spread about the target of what nobody has regulated for years
};

// Nothing where the reading does not wander by itself or is no aim.
std::optional<Prior> prior_of(Reading reading);

// Scatter of an effect between sections and between the notes of one, as a share of its size
// (estimates, no source).
inline constexpr double section_share = 0.30, note_share = 0.35;

// Felt and leather settle in hours played (estimates, no source: the trade says "the first weeks"),
// and the chances of each before looking.
inline constexpr std::array settle_hours{30.0, 100.0, 300.0};
inline constexpr std::array settle_chance{0.25, 0.5, 0.25};
// What is believed of wander may be wrong by these factors.
inline constexpr std::array wander_factor{0.5, 1.0, 2.0};
inline constexpr std::array wander_chance{0.25, 0.5, 0.25};

// A part that was set settles again on its cloth: this share of the whole playing-in (estimate).
inline constexpr double settles_again = 0.15;
// Where a hand leaves a note about its target, and what a move of another adjuster may have done to
// a reading nobody has taken since; both in tolerances (estimates).
inline constexpr double left_spread = 0.5, disturbed = 0.5;

// What new felt does to a reading, as a share of all of it new: "all", "hammers", "knuckles",
// "cushions" (of the wippens), "key-cloth" (rails and punchings), "checks", "dampers". 0 for
// others.
double felt_share(std::string_view what, Reading reading);
inline constexpr std::array<std::string_view, 7> felt_kinds{
    "all", "hammers", "knuckles", "cushions", "key-cloth", "checks", "dampers"};

}  // namespace batten::drift

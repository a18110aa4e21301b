// The mechanism of a note in words.
#pragma once

#include "app/action_job.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten::cli {

// `called`: the piano's or the profile's name. Lines are at most 98 characters.
std::string action_text(const std::string& called, const ActionView& view,
                        const action::Influence& influence, bool inches);
std::string stroke_text(const std::string& called, const ActionView& view,
                        const StrokeRequest& request, const std::vector<NamedStroke>& strokes,
                        bool inches);

// The profiles that come with the program.
std::string profiles_text();

// A reading as shown: "45.50 mm", "48 gf", "50 %", "–" where it has none.
std::string reading_text(const action::Readings& readings, std::size_t row, bool inches);
// What the catalogue calls usual: "44 to 48 mm", "46 to 52 gf"; empty where it says nothing.
std::string usual_text(std::size_t row, bool inches);
// The adjustments as moves from the design: verb and amount.
std::string move_text(std::size_t adjuster, double amount, bool inches);

}  // namespace batten::cli

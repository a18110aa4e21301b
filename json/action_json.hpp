// The mechanism of a note as JSON. Keys carry their unit.
#pragma once

#include "app/action_job.hpp"

#include <string>
#include <vector>

namespace batten {

// `called`: the piano's or the profile's name.
std::string to_json(const std::string& called, const ActionView& view,
                    const action::Influence& influence);
std::string to_json(const std::string& called, const ActionView& view, const StrokeRequest& request,
                    const std::vector<NamedStroke>& strokes);
// Those that come with the program.
std::string profiles_to_json();

}  // namespace batten

// One note of the action from the side, drawn from the posture the solver found.
#pragma once

#include "core/action/posture.hpp"

#include <string>

namespace batten {

struct SideViewWords {
  std::string title;  // "Medium grand, C4: key 6.0 mm down"
  bool sharp = false;
  bool inches = false;
};

// SVG, 800 wide: the whole note, and below it the jack and its surroundings three times as large
// beside what presses on what. Thickness of wood and shape of felt are drawn by estimate; pins,
// faces, contacts and their places are the solver's.
std::string draw_side_view(const action::Posture& posture, const SideViewWords& words);

}  // namespace batten

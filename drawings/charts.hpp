// Curves and charts of one note, as SVG 800 wide.
#pragma once

#include "core/action/regulate.hpp"
#include "core/action/strokes.hpp"

#include <span>
#include <string>

namespace batten {

// A slow press and its release: force under the finger over key depth, and the crown's last
// millimetres under the string. The readings must have kept their curves.
std::string draw_press(const action::Readings& readings, const std::string& title);

// Strokes beside each other, one to three: forces, heights and events over the time from the start
// of the key's motion. The strokes must have kept their traces.
struct StrokeColumn {
  std::string name;  // "loud"
  action::Stroke stroke;
};
std::string draw_strokes(std::span<const StrokeColumn> columns, const std::string& title);

// The influence matrix: a figure in every field, shaded by its size within its row.
std::string draw_influence(const action::Influence& influence, const std::string& title);

}  // namespace batten

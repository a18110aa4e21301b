// Letters of single strokes for a tool that engraves along lines, whatever machine drives it.
//
// Our own: capitals, figures, the letters of mm and in, and a few signs on a grid of 4 × 6; other
// small letters are drawn as their capitals, ß as SS; a character that is not there as a small
// square.
#pragma once

#include <string_view>
#include <vector>

namespace batten::letters {

struct Place {
  double x = 0, y = 0;
};
using Stroke = std::vector<Place>;

// Same unit as `height`, that of a capital; `text` is UTF-8.
double width(std::string_view text, double height);
// From the left end of the base line, y up. Commas reach a sixth of the height below it, the dots
// of Ä Ö Ü as far above a capital.
std::vector<Stroke> strokes(std::string_view text, double height);

}  // namespace batten::letters

// The strip: the keyboard drawn to scale, and above it the strings and the hammers on one x-axis.
#pragma once

#include "core/regulation/line/line.hpp"
#include "reports/page.hpp"
#include "reports/wording.hpp"

namespace batten::paper {

// What a lane shows of a height: its range on paper. Heights outside are held to the lane's edge
// and drawn as an arrowhead.
struct LaneScale {
  Box lane;
  double low = 0, high = 1;  // metres at the lane's foot and top
  double step = 0.001;       // metres between ruled lines
  double y(double metres) const {
    return lane.bottom() - (metres - low) / (high - low) * lane.height;
  }
  bool shows(double metres) const { return low <= metres && metres <= high; }
};

// Where everything of the strip lies, from its top left corner and width.
struct StripLayout {
  Box whole, titles, strings, hammers, keys, names, legend;
  double points_per_metre = 1;  // along the keyboard
  static StripLayout make(Compass compass, double left, double top, double width);
  // Where a note's string and hammer stand over the keyboard: evenly spaced, twelve to the octave,
  // as the keys' tails are, so that a smooth line looks smooth. Always over the key's own front.
  double x(Compass compass, Key key) const;
};

// Ranges that show the curve and the honest readings; a wrong reading does not squeeze the rest.
LaneScale strings_scale(const Line& line, const Box& lane, Units units);
LaneScale hammers_scale(const Line& line, const Box& lane, Units units);

// Draws it and returns the height used.
double draw_strip(Page& page, const Line& line, Units units, double left, double top, double width);

// Parts of it, in their own sources.
void draw_keyboard(Page& page, const Line& line, const StripLayout& layout);
void draw_section_marks(Page& page, const Line& line, const StripLayout& layout);
void draw_strings_lane(Page& page, const Line& line, const StripLayout& layout,
                       const LaneScale& lane, Units units);
void draw_hammers_lane(Page& page, const Line& line, const StripLayout& layout,
                       const LaneScale& lane, Units units);
void draw_legend(Page& page, const Line& line, const StripLayout& layout);

}  // namespace batten::paper

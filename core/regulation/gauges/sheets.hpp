// Pieces laid out on sheets of a given size.
#pragma once

#include "core/regulation/gauges/pieces.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace batten {

struct PlacedPiece {
  std::size_t piece = 0;  // index
  Spot at;                // its lower left corner on the sheet, y up
};

struct GaugeSheet {
  double width = 0, height = 0;  // mm, used: from the origin to the farthest edges
  std::vector<PlacedPiece> pieces;
};

// Shelf by shelf, tall pieces first, `gap` between any two; from the top of the sheet down, so that
// a sheet half full is empty at its foot. Pieces too large for a sheet get one of their own and
// stand over its edge. `height` infinite: one sheet, as high as needed.
std::vector<GaugeSheet> lay_out(std::span<const GaugePiece> pieces, double width, double height,
                                double gap);

// All pieces on one sheet for a machine that cuts, with a bar of 100 mm below them that tells
// whether the file was read in millimetres.
struct CuttingSheet {
  double width = 0, height = 0;  // mm
  std::vector<PlacedPiece> pieces;
  Spot bar_from, bar_to;
};
CuttingSheet cutting_sheet(std::span<const GaugePiece> pieces);

}  // namespace batten

// Gauges as outlines to be cut out of a flat sheet, with what is engraved on them.
//
// Millimetres, x to the right, y up, the lower left corner of a piece's box at the origin.
#pragma once

#include "core/language/language.hpp"
#include "core/regulation/gauges/gauges.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten {

struct Spot {
  double x = 0, y = 0;
  bool operator==(const Spot&) const = default;
};

struct Round {
  Spot centre;
  double radius = 0;
};

// One line of words; `at` is the left end of its base line in single strokes, `height` that of its
// capitals. Other letters have `room` to either side of the same middle.
struct Engraving {
  Spot at;
  double height = 0;
  std::string text;
  double room = 0;  // width
};

// What the piece is there for: straight from edge to edge, along x or y.
struct Measure {
  Spot from, to;
  double mm = 0;
};

struct GaugePiece {
  GaugeKind kind = GaugeKind::blow;
  bool block = false;         // stepped: several sizes in one piece
  std::vector<double> sizes;  // mm: one, or those of the steps from left to right
  std::vector<Spot> outline;  // closed without its first corner again, counter-clockwise
  std::vector<Round> holes;   // to hang it up, or to screw a set together
  std::vector<Engraving> engravings;
  // One for each size; none where the size is the thickness of the sheet.
  std::vector<Measure> measures;
  // Thickness of the sheet it must be cut from; nothing: any stiff sheet of 2 to 3 mm.
  std::optional<double> stock;
  std::string title;  // "blow gauge 45.85 mm, A0–E2"
  double width = 0, height = 0;
};

struct GaugeStyle {
  Language language = Language::english;
  bool inches = false;  // in what is said and engraved; outlines are what they are
};

// A gauge each size, and stepped blocks of the kinds that have them where there is more than one.
// Order of the set; blocks behind the single gauges of their kind.
std::vector<GaugePiece> shape_pieces(const GaugeSet& set, const GaugeStyle& style);

// "blow gauge"; how it is held; why there is none.
std::string name_of(Language language, GaugeKind kind);
std::string use_of(Language language, GaugeKind kind);
std::string reason_of(Language language, const GaugeLeftOut& left_out);

// "45.85 mm", "1.805 in", "45,85 mm"; a no-break thin space (U+202F) between.
// `decimals` of millimetres; one more of inches.
std::string size_text(double mm, const GaugeStyle& style, int decimals = 2);
// "A0–E2, C5": which of the `asked` notes, runs of three or more joined; beyond three runs the
// first and the last note with "…" between.
std::string notes_text(const std::vector<Key>& notes, const std::vector<Key>& asked);

}  // namespace batten

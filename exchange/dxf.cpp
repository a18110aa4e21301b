#include "exchange/dxf.hpp"

#include "core/regulation/gauges/sheets.hpp"
#include "core/regulation/gauges/stroke_letters.hpp"

#include <fmt/format.h>

#include <array>
#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

namespace batten {
namespace {

// Colours of the AutoCAD index: 1 red, 5 blue, 8 grey.
struct Layer {
  std::string_view name;
  int colour;
};
constexpr Layer cut{"CUT", 1}, engrave{"ENGRAVE", 5}, check{"CHECK", 8};
constexpr std::array layers{Layer{"0", 7}, cut, engrave, check};

// Pairs of a group code and a value, each on a line.
class Groups {
 public:
  void word(int code, std::string_view value) {
    text_ += fmt::format("{:3}\r\n{}\r\n", code, value);
  }
  void number(int code, int value) { text_ += fmt::format("{:3}\r\n{:6}\r\n", code, value); }
  void length(int code, double value) {
    // No minus before a zero.
    text_ += fmt::format("{:3}\r\n{:.4f}\r\n", code, value == 0 ? 0.0 : value);
  }
  void spot(int code, Spot at) {
    length(code, at.x);
    length(code + 10, at.y);
    length(code + 20, 0);
  }
  std::string finish() { return std::move(text_); }

 private:
  std::string text_;
};

void write_header(Groups& out, const CuttingSheet& sheet) {
  out.word(999, "Gauges to cut. Unit: millimetre. The bar on layer CHECK is 100 mm long.");
  out.word(0, "SECTION");
  out.word(2, "HEADER");
  out.word(9, "$ACADVER");
  out.word(1, "AC1009");
  out.word(9, "$EXTMIN");
  out.spot(10, {0, 0});
  out.word(9, "$EXTMAX");
  out.spot(10, {sheet.width, sheet.height});
  out.word(0, "ENDSEC");
}

void write_tables(Groups& out) {
  out.word(0, "SECTION");
  out.word(2, "TABLES");
  out.word(0, "TABLE");
  out.word(2, "LTYPE");
  out.number(70, 1);
  out.word(0, "LTYPE");
  out.word(2, "CONTINUOUS");
  out.number(70, 0);
  out.word(3, "Solid line");
  out.number(72, 65);
  out.number(73, 0);
  out.length(40, 0);
  out.word(0, "ENDTAB");
  out.word(0, "TABLE");
  out.word(2, "LAYER");
  out.number(70, static_cast<int>(layers.size()));
  for (const Layer& layer : layers) {
    out.word(0, "LAYER");
    out.word(2, layer.name);
    out.number(70, 0);
    out.number(62, layer.colour);
    out.word(6, "CONTINUOUS");
  }
  out.word(0, "ENDTAB");
  out.word(0, "ENDSEC");
}

void write_polyline(Groups& out, const Layer& layer, const std::vector<Spot>& spots, bool closed) {
  out.word(0, "POLYLINE");
  out.word(8, layer.name);
  out.number(66, 1);
  out.spot(10, {});
  out.number(70, closed ? 1 : 0);
  for (const Spot& s : spots) {
    out.word(0, "VERTEX");
    out.word(8, layer.name);
    out.spot(10, s);
  }
  out.word(0, "SEQEND");
  out.word(8, layer.name);
}

void write_words(Groups& out, const Layer& layer, std::string_view text, double height, Spot at) {
  for (const auto& stroke : letters::strokes(text, height)) {
    std::vector<Spot> spots;
    for (const auto& p : stroke) spots.push_back({at.x + p.x, at.y + p.y});
    write_polyline(out, layer, spots, false);
  }
}

void write_piece(Groups& out, const GaugePiece& piece, Spot at) {
  std::vector<Spot> spots;
  for (const Spot& s : piece.outline) spots.push_back({at.x + s.x, at.y + s.y});
  write_polyline(out, cut, spots, true);
  for (const Round& hole : piece.holes) {
    out.word(0, "CIRCLE");
    out.word(8, cut.name);
    out.spot(10, {at.x + hole.centre.x, at.y + hole.centre.y});
    out.length(40, hole.radius);
  }
  for (const Engraving& line : piece.engravings)
    write_words(out, engrave, line.text, line.height, {at.x + line.at.x, at.y + line.at.y});
}

void write_bar(Groups& out, Spot from, Spot to) {
  constexpr double tick = 2;
  write_polyline(out, check, {from, to}, false);
  for (const Spot end : {from, to})
    write_polyline(out, check, {{end.x, end.y - tick}, {end.x, end.y + tick}}, false);
  write_words(out, check, "100 mm", 3, {from.x + 3, from.y + 2});
}

}  // namespace

std::string write_gauges_dxf(std::span<const GaugePiece> pieces) {
  const CuttingSheet sheet = cutting_sheet(pieces);
  Groups out;
  write_header(out, sheet);
  write_tables(out);
  out.word(0, "SECTION");
  out.word(2, "ENTITIES");
  for (const PlacedPiece& p : sheet.pieces) write_piece(out, pieces[p.piece], p.at);
  write_bar(out, sheet.bar_from, sheet.bar_to);
  out.word(0, "ENDSEC");
  out.word(0, "EOF");
  return out.finish();
}

}  // namespace batten

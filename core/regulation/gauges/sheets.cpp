#include "core/regulation/gauges/sheets.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace batten {
namespace {

struct Shelf {
  std::size_t sheet = 0;
  double top = 0;     // from the sheet's top edge down
  double height = 0;  // of its first, tallest piece
  double used = 0;
};

class Shelves {
 public:
  Shelves(double width, double height, double gap) : width_(width), height_(height), gap_(gap) {}

  // Tops are counted down from the sheet's top edge here.
  void put(std::size_t index, const GaugePiece& piece) {
    for (Shelf& shelf : shelves_) {
      const double left = shelf.used + gap_;
      if (piece.height > shelf.height || left + piece.width > width_) continue;
      place(index, piece, shelf, left);
      return;
    }
    open(piece.height);
    place(index, piece, shelves_.back(), 0);
  }

  std::vector<GaugeSheet> finish(std::span<const GaugePiece> pieces) {
    for (GaugeSheet& sheet : sheets_)
      for (PlacedPiece& p : sheet.pieces) p.at.y = sheet.height - p.at.y - pieces[p.piece].height;
    return std::move(sheets_);
  }

 private:
  // Below what is on the first sheet that has the room, or on a new one.
  void open(double height) {
    for (std::size_t i = 0; i < sheets_.size(); ++i) {
      const double top = sheets_[i].height + gap_;
      if (top + height > height_) continue;
      shelves_.push_back({i, top, height, 0});
      return;
    }
    sheets_.emplace_back();
    shelves_.push_back({sheets_.size() - 1, 0, height, 0});
  }
  void place(std::size_t index, const GaugePiece& piece, Shelf& shelf, double left) {
    GaugeSheet& sheet = sheets_[shelf.sheet];
    sheet.pieces.push_back({index, {left, shelf.top}});
    sheet.width = std::max(sheet.width, left + piece.width);
    sheet.height = std::max(sheet.height, shelf.top + piece.height);
    shelf.used = left + piece.width;
  }

  double width_, height_, gap_;
  std::vector<Shelf> shelves_;
  std::vector<GaugeSheet> sheets_;
};

}  // namespace

std::vector<GaugeSheet> lay_out(std::span<const GaugePiece> pieces, double width, double height,
                                double gap) {
  std::vector<std::size_t> order(pieces.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(
      order, [&](std::size_t a, std::size_t b) { return pieces[a].height > pieces[b].height; });
  Shelves shelves(width, height, gap);
  for (const std::size_t i : order) shelves.put(i, pieces[i]);
  return shelves.finish(pieces);
}

CuttingSheet cutting_sheet(std::span<const GaugePiece> pieces) {
  // Smallest usual bed of a hobby machine, from memory: 300 mm one way.
  constexpr double bed = 290, margin = 5, gap = 6, bar = 100, bar_room = 14;
  CuttingSheet out;
  auto sheets = lay_out(pieces, bed, std::numeric_limits<double>::infinity(), gap);
  const GaugeSheet sheet = sheets.empty() ? GaugeSheet{} : std::move(sheets.front());
  out.width = std::max(sheet.width, bar) + 2 * margin;
  out.height = sheet.height + bar_room + 2 * margin;
  for (const PlacedPiece& p : sheet.pieces)
    out.pieces.push_back({p.piece, {p.at.x + margin, p.at.y + margin + bar_room}});
  out.bar_from = {margin, margin + 4};
  out.bar_to = {margin + bar, margin + 4};
  return out;
}

}  // namespace batten

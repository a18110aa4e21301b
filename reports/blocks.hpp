// The blocks of a composed page, set one by one. Internal to reports.
#pragma once

#include "core/regulation/handover/page.hpp"
#include "reports/page.hpp"

#include <vector>

namespace batten::paper {

// Points.
struct BlockSizes {
  double text = 10, figures = 9.5, means = 9, quiet = 8.5, heading = 12, table = 9;
};
// The next smaller ones, where a page has no room.
BlockSizes smaller(const BlockSizes& sizes);

class BlockSetter {
 public:
  BlockSetter(const ComposedPage& composed, double width, BlockSizes sizes)
      : composed_(&composed), width_(width), sizes_(sizes) {}

  // From the top down; returns the height used, the gap below included. `ink` false: only measures.
  double set(Page& page, const PageBlock& block, double left, double top, bool ink) const;

  // What a list leaves free below its last item.
  static constexpr double below_list = 2.5;

  double width() const { return width_; }
  const BlockSizes& sizes() const { return sizes_; }

  // A table in as many columns beside each other as there is room for.
  struct TableShape {
    std::vector<double> columns;  // widths
    double width = 0;             // of one
    double row = 0, head = 0;     // heights
    std::size_t beside = 1;
  };
  TableShape shape(const Page& page, const PageBlock& table) const;
  // One of them: its head, then rows `from` … `to` − 1.
  void table_part(Page& page, const PageBlock& table, const TableShape& shape, std::size_t from,
                  std::size_t to, double left, double top) const;

 private:
  double heading(Page& page, const PageBlock& b, double left, double top, bool ink) const;
  double paragraph(Page& page, const PageBlock& b, double left, double top, bool ink) const;
  double caution(Page& page, const PageBlock& b, double left, double top, bool ink) const;
  double list(Page& page, const PageBlock& b, double left, double top, bool ink) const;
  double figures(Page& page, const PageBlock& b, double left, double top, bool ink) const;
  double strip(Page& page, const PageBlock& b, double left, double top, bool ink) const;
  double table(Page& page, const PageBlock& b, double left, double top, bool ink) const;
  double sign(Page& page, const PageBlock& b, double left, double top, bool ink) const;

  const ComposedPage* composed_;
  double width_;
  BlockSizes sizes_;
};

}  // namespace batten::paper

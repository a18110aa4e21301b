// What is left out where a page has no room. Internal to reports.
#pragma once

#include "reports/blocks.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten::paper {

// Leaves the least out that makes the rest fit: the highest rank first, of lists and figures the
// last ones one by one.
class Fitting {
 public:
  // `page` and `setter` only measure; both outlive this.
  Fitting(Page& page, std::vector<PageBlock> blocks, const BlockSetter& setter, Language language);

  // Those that are kept; a list that lost items counts them in a last one. Where everything that
  // may go is gone they may still be too high.
  std::vector<PageBlock> fit(double room);
  double sum() const;
  // Whether something that was said is left out; the lowest rank that had to give, 0: none.
  bool cut() const { return cut_; }
  int deepest() const { return deepest_; }

 private:
  std::optional<std::size_t> next() const;
  void give(std::size_t i);
  double item_height(const PageItem& item) const;
  double height_of(std::size_t i) const;
  std::string more(std::size_t i) const;
  PageBlock shown(std::size_t i) const;

  Page& page_;
  const BlockSetter& setter_;
  std::vector<PageBlock> blocks_;
  std::vector<double> heights_;
  std::vector<long> gone_;
  std::vector<std::vector<double>> items_;  // heights, of lists
  Language language_;
  bool cut_ = false;
  int deepest_ = 0;
};

// The user's own words may be longer than any page: the longest text loses its end, about as much
// as `over` points take. False: nothing long is left.
bool shorten_longest(std::vector<PageBlock>& blocks, double over);

}  // namespace batten::paper

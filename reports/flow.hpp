// Blocks down a page and on to the next: margins, headings, feet.
#pragma once

#include "core/language/language.hpp"
#include "reports/line_sheet.hpp"
#include "reports/page.hpp"

#include <memory>
#include <string>
#include <vector>

namespace batten::paper {

class Flow {
 public:
  // `language`: of the feet.
  Flow(Paper paper, const SheetHeading& heading, std::string title,
       Language language = Language::english);

  Page& page() { return *pages_.back(); }
  double left() const { return margin; }
  double width() const { return paper_width_ - 2 * margin; }
  double bottom() const { return paper_height_ - margin - foot_height; }
  double room() const { return bottom() - y; }
  // Starts a new page unless `height` is left on this one, or this one is still empty.
  void need(double height);
  void new_page();
  // Bold words over the full width, kept together with `following` points after them.
  void headline(const std::string& words, double following);

  double y = 0;  // where the next block begins

  // Feet with "page 1 of 3" on every page; the pages are done then.
  std::vector<std::unique_ptr<Page>> finish();

  static constexpr double margin = 12 * mm;

 private:
  static constexpr double foot_height = 16;
  void first_heading();
  void running_heading();

  double paper_width_, paper_height_;
  SheetHeading heading_;
  std::string title_;
  Language language_;
  double top_of_blocks_ = 0;
  std::vector<std::unique_ptr<Page>> pages_;
};

}  // namespace batten::paper

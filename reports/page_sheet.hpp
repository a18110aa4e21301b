// Composed pages on paper, under the user's letterhead.
#pragma once

#include "core/regulation/handover/page.hpp"
#include "reports/letterhead.hpp"
#include "reports/line_sheet.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace batten {

// One page is held to a single sheet: what has no room is left out by its rank, and the page says
// so. Others take as many sheets as they need.
enum class Extent : std::uint8_t { one_sheet, as_needed };

struct PageOnPaper {
  ComposedPage page;
  Extent extent = Extent::as_needed;
};

struct PageSheetOptions {
  Paper paper = Paper::a4;
  Letterhead letterhead;
  std::string title;                             // of the file
  std::string created = "2000-01-01T00:00:00Z";  // ISO 8601, UTC
};

// PDF/A-2u of all of them behind each other; the same values give the same bytes on one machine.
// A logo that cannot be read throws ReportFailure.
struct PrintedPages {
  std::string pdf;
  int sheets = 0;
};
PrintedPages print_pages(const std::vector<PageOnPaper>& pages, const PageSheetOptions& options);
// One sheet as PNG on white; `sheet` from 1, held to those there are; `dpi` 36…600.
std::string picture_pages(const std::vector<PageOnPaper>& pages, const PageSheetOptions& options,
                          int sheet = 1, double dpi = 150);

}  // namespace batten

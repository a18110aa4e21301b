// Handover and bench sheets on paper.
#pragma once

#include "app/handover_page.hpp"
#include "app/paper_choices.hpp"
#include "app/plan_job.hpp"
#include "reports/page_sheet.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace batten {

// As the workshop's settings have it (letterhead-name, letterhead-lines with ';' between, logo).
Letterhead letterhead_of(Desk& desk);

enum class HandoverPart : std::uint8_t { both, owner, file };

// The pages of a visit handed over, of a plan made already; ready to be printed.
struct HandoverPaper {
  std::vector<PageOnPaper> pages;
  PageSheetOptions options;
};
Result<HandoverPaper> handover_paper(Desk& desk, const Piano& piano, const PianoPlan& plan,
                                     const PageChoices& choices,
                                     HandoverPart part = HandoverPart::both);

// Errors: a logo that cannot be read.
Result<PrintedPages> print_paper(const HandoverPaper& paper);
// PNG of one sheet.
Result<std::string> picture_paper(const HandoverPaper& paper, int sheet, double dpi);

}  // namespace batten

#include "reports/page_sheet.hpp"

#include "reports/output.hpp"
#include "reports/page_flow.hpp"

#include <algorithm>
#include <iterator>
#include <memory>

namespace batten {

namespace {

std::vector<std::unique_ptr<paper::Page>> set(const std::vector<PageOnPaper>& pages,
                                              const PageSheetOptions& options) {
  std::vector<std::unique_ptr<paper::Page>> sheets;
  for (const PageOnPaper& p : pages) {
    auto more = p.extent == Extent::one_sheet ? paper::set_on_one(p.page, options)
                                              : paper::set_as_needed(p.page, options);
    std::ranges::move(more, std::back_inserter(sheets));
  }
  return sheets;
}

}  // namespace

PrintedPages print_pages(const std::vector<PageOnPaper>& pages, const PageSheetOptions& options) {
  const auto sheets = set(pages, options);
  const std::string language(code_of(pages.front().page.language));
  return {paper::pdf_bytes(sheets, options.title, options.created, language),
          static_cast<int>(sheets.size())};
}

std::string picture_pages(const std::vector<PageOnPaper>& pages, const PageSheetOptions& options,
                          int sheet, double dpi) {
  const auto sheets = set(pages, options);
  const int count = static_cast<int>(sheets.size());
  const auto index = static_cast<std::size_t>(std::clamp(sheet, 1, count) - 1);
  return paper::png_bytes(*sheets[index], std::clamp(dpi, 36.0, 600.0));
}

}  // namespace batten

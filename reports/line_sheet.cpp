#include "reports/line_sheet.hpp"

#include "reports/compose.hpp"
#include "reports/output.hpp"

#include <algorithm>

namespace batten {

int render_line_sheet_pdf(const Line& line, const SheetHeading& heading,
                          const SheetOptions& options, const std::filesystem::path& file) {
  const auto pages = paper::compose_line_sheet(line, heading, options);
  paper::write_pdf(pages, heading.piano.empty() ? "Hammer line" : "Hammer line: " + heading.piano,
                   options.created, file);
  return static_cast<int>(pages.size());
}

int render_line_sheet_png(const Line& line, const SheetHeading& heading,
                          const SheetOptions& options, const std::filesystem::path& file, int page,
                          double dpi) {
  const auto pages = paper::compose_line_sheet(line, heading, options);
  const int count = static_cast<int>(pages.size());
  const auto index = static_cast<std::size_t>(std::clamp(page, 1, count) - 1);
  paper::write_png(*pages[index], std::clamp(dpi, 36.0, 600.0), file);
  return count;
}

}  // namespace batten

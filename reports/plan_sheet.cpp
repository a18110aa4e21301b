#include "reports/plan_sheet.hpp"

#include "reports/output.hpp"
#include "reports/plan_pages.hpp"

#include <algorithm>

namespace batten {

int render_plan_sheet_pdf(const Plan& plan, const PlanSheetWords& words,
                          const SheetHeading& heading, const SheetOptions& options,
                          const std::filesystem::path& file) {
  const auto pages = paper::compose_plan_sheet(plan, words, heading, options);
  paper::write_pdf(pages, heading.piano.empty() ? "Work plan" : "Work plan: " + heading.piano,
                   options.created, file);
  return static_cast<int>(pages.size());
}

int render_plan_sheet_png(const Plan& plan, const PlanSheetWords& words,
                          const SheetHeading& heading, const SheetOptions& options,
                          const std::filesystem::path& file, int page, double dpi) {
  const auto pages = paper::compose_plan_sheet(plan, words, heading, options);
  const int count = static_cast<int>(pages.size());
  const auto index = static_cast<std::size_t>(std::clamp(page, 1, count) - 1);
  paper::write_png(*pages[index], std::clamp(dpi, 36.0, 600.0), file);
  return count;
}

}  // namespace batten

// The sheet of a plan: where the job stands, the passes in working order, every step with a box to
// tick and room to write.
#pragma once

#include "core/regulation/planning/plan.hpp"
#include "core/regulation/planning/threads.hpp"
#include "reports/line_sheet.hpp"

#include <filesystem>
#include <optional>
#include <string>

namespace batten {

struct PlanSheetWords {
  std::string standing;  // where the job stands: two sentences
  std::string rests_on;  // whose figures these are, what is a first guess; may be empty
  std::string hands;     // planning aid on load and pauses, with what it is not; may be empty
  Threads threads;
  std::optional<Adjuster> pass;  // only this one
};

// As render_line_sheet_pdf and _png.
int render_plan_sheet_pdf(const Plan& plan, const PlanSheetWords& words,
                          const SheetHeading& heading, const SheetOptions& options,
                          const std::filesystem::path& file);
int render_plan_sheet_png(const Plan& plan, const PlanSheetWords& words,
                          const SheetHeading& heading, const SheetOptions& options,
                          const std::filesystem::path& file, int page = 1, double dpi = 150);

}  // namespace batten

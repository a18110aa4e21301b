// Bench sheets: one pass each, in working order, for those who work from paper. Every line has a
// number, so that what was written can be typed back.
#pragma once

#include "core/regulation/handover/said.hpp"
#include "core/regulation/planning/plan.hpp"
#include "core/regulation/planning/threads.hpp"
#include "reports/page_sheet.hpp"

#include <string>
#include <vector>

namespace batten {

struct BenchPass {
  const Pass* pass = nullptr;
  std::string code;  // to type it back under
};

struct BenchWords {
  std::string piano, place, visit, date;
  Threads threads;
  PageStyle style;
  bool large = false;  // amounts of 22 points instead of 15, wider rows
};

// Each pass begins on a sheet of its own. `options` as for other pages; its letterhead is left out:
// the whole sheet is for the work.
PrintedPages print_bench_sheets(const Plan& plan, const std::vector<BenchPass>& passes,
                                const BenchWords& words, const PageSheetOptions& options);
std::string picture_bench_sheets(const Plan& plan, const std::vector<BenchPass>& passes,
                                 const BenchWords& words, const PageSheetOptions& options,
                                 int sheet = 1, double dpi = 150);

// "to player", "früher": what the hand does, as short as a row allows.
std::string short_direction(Language language, Adjuster adjuster, double amount);

}  // namespace batten

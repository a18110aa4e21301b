// The sheets of bench_sheet.hpp as pages. Internal to reports.
#pragma once

#include "reports/bench_sheet.hpp"
#include "reports/page_flow.hpp"

namespace batten::paper {

Sheets compose_bench_sheets(const Plan& plan, const std::vector<BenchPass>& passes,
                            const BenchWords& words, const PageSheetOptions& options);

}  // namespace batten::paper

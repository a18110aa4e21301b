// Composed pages to sheets. Internal to reports.
#pragma once

#include "reports/page.hpp"
#include "reports/page_sheet.hpp"

#include <memory>
#include <vector>

namespace batten::paper {

using Sheets = std::vector<std::unique_ptr<Page>>;

Sheets set_on_one(const ComposedPage& page, const PageSheetOptions& options);
Sheets set_as_needed(const ComposedPage& page, const PageSheetOptions& options);

}  // namespace batten::paper

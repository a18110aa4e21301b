// The order of the blocks on the sheet.
#pragma once

#include "reports/line_sheet.hpp"
#include "reports/page.hpp"

#include <memory>
#include <vector>

namespace batten::paper {

std::vector<std::unique_ptr<Page>> compose_line_sheet(const Line& line, const SheetHeading& heading,
                                                      const SheetOptions& options);

}  // namespace batten::paper

// The pages of the gauges to cut. Internal to reports; tests look at the pages.
#pragma once

#include "reports/page.hpp"
#include "reports/template_sheet.hpp"

#include <memory>
#include <vector>

namespace batten::paper {

std::vector<std::unique_ptr<Page>> compose_template(const GaugeSet& set,
                                                    const SheetHeading& heading,
                                                    const TemplateOptions& options);

}  // namespace batten::paper

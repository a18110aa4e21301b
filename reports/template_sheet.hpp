// Gauges to cut on paper, at their true size.
#pragma once

#include "core/regulation/gauges/pieces.hpp"
#include "reports/line_sheet.hpp"

#include <string>

namespace batten {

struct TemplateOptions {
  Paper paper = Paper::a4;
  GaugeStyle style;
  std::string created = "2000-01-01T00:00:00Z";  // ISO 8601, written into the PDF
};

// How to verify the printer's scale, what each gauge is for, cautions; then the pieces, 1:1, on
// every page with bars of 100 mm and 4 in in both directions.
std::string template_pdf(const GaugeSet& set, const SheetHeading& heading,
                         const TemplateOptions& options);
// One page of the same as a picture; `page` from 1 and `dpi` 36…600 as for the line sheet.
std::string template_png(const GaugeSet& set, const SheetHeading& heading,
                         const TemplateOptions& options, int page, double dpi);
int template_page_count(const GaugeSet& set, const SheetHeading& heading,
                        const TemplateOptions& options);

}  // namespace batten

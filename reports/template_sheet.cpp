#include "reports/template_sheet.hpp"

#include "core/language/language.hpp"
#include "reports/output.hpp"
#include "reports/template_pages.hpp"

#include <algorithm>

namespace batten {

std::string template_pdf(const GaugeSet& set, const SheetHeading& heading,
                         const TemplateOptions& options) {
  const Language language = options.style.language;
  const std::string title = say(language, "template.title");
  return paper::pdf_bytes(paper::compose_template(set, heading, options),
                          heading.piano.empty() ? title : title + ": " + heading.piano,
                          options.created, std::string(code_of(language)));
}

std::string template_png(const GaugeSet& set, const SheetHeading& heading,
                         const TemplateOptions& options, int page, double dpi) {
  const auto pages = paper::compose_template(set, heading, options);
  const auto index =
      static_cast<std::size_t>(std::clamp(page, 1, static_cast<int>(pages.size())) - 1);
  return paper::png_bytes(*pages[index], std::clamp(dpi, 36.0, 600.0));
}

int template_page_count(const GaugeSet& set, const SheetHeading& heading,
                        const TemplateOptions& options) {
  return static_cast<int>(paper::compose_template(set, heading, options).size());
}

}  // namespace batten

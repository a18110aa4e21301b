// Gauges to cut, from a piano's own targets.
#pragma once

#include "app/desk.hpp"
#include "app/paper_choices.hpp"
#include "core/regulation/gauges/pieces.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// `which`: codes with commas or blanks between ("blow, dip"); empty: all there can be. Errors: a
// gauge there is none of; settings that cannot be read, sections missing.
Result<GaugeSet> gauges_for(Desk& desk, const Piano& piano, std::string_view which);

enum class TemplateForm : std::uint8_t { pdf, svg, dxf, png };
// By a file's ending or alone: "pdf", "gauges.SVG". Nothing for others.
std::optional<TemplateForm> template_form(std::string_view name);

struct TemplateRequest {
  std::string which;  // as gauges_for
  TemplateForm form = TemplateForm::pdf;
  PageAsked page;
  int picture_page = 1;      // of the PNG
  double picture_dpi = 150;  // 36…600
};

struct TemplateMade {
  std::string bytes;
  GaugeSet set;
  std::size_t pieces = 0;
  int pages = 0;  // of the PDF; 0 for the others
};

// Errors: as gauges_for and page_choices; none can be cut, each with its reason.
Result<TemplateMade> make_template(Desk& desk, const Piano& piano, const TemplateRequest& request);

// What there is to cut, in the language and unit of a page.
struct TemplateOffer {
  GaugeStyle style;
  GaugeSet set;
  std::vector<GaugePiece> pieces;
  int pages_a4 = 0, pages_letter = 0;
};
Result<TemplateOffer> offer_templates(Desk& desk, const Piano& piano, const PageAsked& asked);

}  // namespace batten

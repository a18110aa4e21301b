#include "app/gauge_job.hpp"

#include "app/entries.hpp"
#include "app/handover_page.hpp"
#include "app/line_job.hpp"
#include "app/pianos.hpp"
#include "core/regulation/line/line.hpp"
#include "drawings/gauge_sheet.hpp"
#include "exchange/dxf.hpp"
#include "reports/template_sheet.hpp"

#include <algorithm>

namespace batten {

namespace {

Result<std::vector<GaugeKind>> kinds_named(std::string_view which) {
  std::vector<GaugeKind> kinds;
  const auto part_end = [&] { return std::min(which.find_first_of(",;"), which.size()); };
  while (!which.empty()) {
    const std::size_t end = part_end();
    const std::string_view code = which.substr(0, end);
    which.remove_prefix(std::min(end + 1, which.size()));
    if (code.find_first_not_of(" \t") == std::string_view::npos) continue;
    const auto kind = gauge_by_code(code);
    if (!kind) {
      std::string known;
      for (const GaugeKindRow& row : gauge_kinds())
        known += (known.empty() ? "" : ", ") + std::string(row.code);
      return problem("There is no gauge \"" + std::string(code) + "\".",
                     "There are: " + known + ".");
    }
    kinds.push_back(*kind);
  }
  return kinds;
}

Problem none_to_cut(const GaugeSet& set) {
  std::string why;
  for (const GaugeLeftOut& left : set.left_out)
    why += " " + capital(name_of(Language::english, left.kind)) + ": " +
           reason_of(Language::english, left);
  return {"There is no gauge to cut." + why, "",
          "Set the targets, as in: batten set key-height-target \"65 mm\"."};
}

SheetHeading heading_of(Desk& desk, const Piano& piano, Language language) {
  const CivilDay day = local_day(desk.now_ms());
  return {piano.name, piano.place, "", date_in(language, day.year, day.month, day.day), desk.who};
}

}  // namespace

Result<GaugeSet> gauges_for(Desk& desk, const Piano& piano, std::string_view which) {
  return guarded([&]() -> Result<GaugeSet> {
    auto kinds = kinds_named(which);
    if (!kinds) return tl::unexpected(kinds.error());
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    const Compass compass = compass_of(piano);
    auto line = line_settings(compass, now->settings);
    if (!line) return tl::unexpected(line.error());
    auto targets = targets_on_record(compass, line->sections, now->settings);
    if (!targets) return tl::unexpected(targets.error());
    auto catalogue = working_catalogue(now->settings);
    if (!catalogue) return tl::unexpected(catalogue.error());
    auto equipment = equipment_on_record(compass, now->settings);
    if (!equipment) return tl::unexpected(equipment.error());
    return calc_gauges(compass, *targets, *catalogue, *equipment, *kinds);
  });
}

std::optional<TemplateForm> template_form(std::string_view name) {
  const auto dot = name.rfind('.');
  if (dot != std::string_view::npos) name.remove_prefix(dot + 1);
  std::string ending(name);
  for (char& c : ending)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  if (ending == "pdf") return TemplateForm::pdf;
  if (ending == "svg") return TemplateForm::svg;
  if (ending == "dxf") return TemplateForm::dxf;
  if (ending == "png") return TemplateForm::png;
  return std::nullopt;
}

Result<TemplateMade> make_template(Desk& desk, const Piano& piano, const TemplateRequest& request) {
  return guarded([&]() -> Result<TemplateMade> {
    auto set = gauges_for(desk, piano, request.which);
    if (!set) return tl::unexpected(set.error());
    if (set->gauges.empty()) return tl::unexpected(none_to_cut(*set));
    auto choices = page_choices(desk, request.page);
    if (!choices) return tl::unexpected(choices.error());
    const GaugeStyle style{choices->style.language, choices->style.inches};
    const auto pieces = shape_pieces(*set, style);
    TemplateMade made{{}, *set, pieces.size(), 0};
    const TemplateOptions options{choices->paper, style, print_timestamp(desk.now_ms())};
    const SheetHeading heading = heading_of(desk, piano, style.language);
    switch (request.form) {
      case TemplateForm::pdf:
        made.bytes = template_pdf(*set, heading, options);
        made.pages = template_page_count(*set, heading, options);
        break;
      case TemplateForm::png:
        made.bytes =
            template_png(*set, heading, options, request.picture_page, request.picture_dpi);
        break;
      case TemplateForm::svg:
        made.bytes = gauges_svg(pieces, style);
        break;
      case TemplateForm::dxf:
        made.bytes = write_gauges_dxf(pieces);
        break;
    }
    return made;
  });
}

Result<TemplateOffer> offer_templates(Desk& desk, const Piano& piano, const PageAsked& asked) {
  return guarded([&]() -> Result<TemplateOffer> {
    auto choices = page_choices(desk, asked);
    if (!choices) return tl::unexpected(choices.error());
    auto set = gauges_for(desk, piano, "");
    if (!set) return tl::unexpected(set.error());
    TemplateOffer offer;
    offer.style = {choices->style.language, choices->style.inches};
    offer.set = std::move(*set);
    offer.pieces = shape_pieces(offer.set, offer.style);
    const SheetHeading heading = heading_of(desk, piano, offer.style.language);
    offer.pages_a4 = template_page_count(offer.set, heading, {Paper::a4, offer.style, ""});
    offer.pages_letter = template_page_count(offer.set, heading, {Paper::letter, offer.style, ""});
    return offer;
  });
}

}  // namespace batten

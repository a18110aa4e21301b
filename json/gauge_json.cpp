#include "json/gauge_json.hpp"

#include "json/values.hpp"

#include <algorithm>

namespace batten {

namespace {

// The single piece of a size; pieces come in the order of the set.
const GaugePiece* piece_of(const TemplateOffer& offer, GaugeKind kind, std::size_t which) {
  for (const GaugePiece& p : offer.pieces)
    if (p.kind == kind && !p.block && which-- == 0) return &p;
  return nullptr;
}

Json size_json(const TemplateOffer& offer, const Gauge& gauge, std::size_t which) {
  const GaugeSize& size = gauge.sizes[which];
  const GaugePiece* piece = piece_of(offer, gauge.kind, which);
  return {{"size", rounded(size.mm)},
          {"text", size_text(size.mm, offer.style)},
          {"least", rounded(size.least)},
          {"most", rounded(size.most)},
          {"first", note_name(size.notes.front())},
          {"last", note_name(size.notes.back())},
          {"notes", notes_text(size.notes, gauge.asked)},
          {"count", size.notes.size()},
          {"width", rounded(piece->width)},
          {"height", rounded(piece->height)},
          {"stock", piece->stock ? rounded(*piece->stock) : Json(nullptr)}};
}

Json gauge_json(const TemplateOffer& offer, const Gauge& gauge) {
  const GaugeKindRow& row = kind_of(gauge.kind);
  Json pieces = Json::array(), blocks = Json::array();
  for (std::size_t i = 0; i < gauge.sizes.size(); ++i) pieces.push_back(size_json(offer, gauge, i));
  bool stock = row.of_stock;
  for (const GaugePiece& p : offer.pieces) {
    if (p.kind != gauge.kind) continue;
    stock = stock || p.stock;
    if (!p.block) continue;
    Json sizes = Json::array();
    for (const double mm : p.sizes) sizes.push_back(rounded(mm));
    blocks.push_back(
        {{"sizes", sizes}, {"width", rounded(p.width)}, {"height", rounded(p.height)}});
  }
  std::string use = use_of(offer.style.language, gauge.kind);
  if (stock) use += " " + say(offer.style.language, "gauge.stock.use");
  return {{"gauge", row.code},
          {"name", name_of(offer.style.language, gauge.kind)},
          {"use", use},
          {"reading", kind_of(row.reading).code},
          {"tolerance", rounded(gauge.tolerance)},
          {"within", rounded(gauge.within)},
          {"pieces", pieces},
          {"blocks", blocks}};
}

}  // namespace

std::string to_json(const TemplateOffer& offer, std::int64_t revision) {
  const Language language = offer.style.language;
  Json gauges = Json::array(), left_out = Json::array();
  for (const Gauge& gauge : offer.set.gauges) gauges.push_back(gauge_json(offer, gauge));
  for (const GaugeLeftOut& left : offer.set.left_out) {
    const GaugeKindRow& row = kind_of(left.kind);
    // What is left of a sharp wants its height set.
    const bool of_height = left.why == GaugeLeftOut::Why::no_sharps_height;
    const Reading missing = of_height ? Reading::sharps_height : row.reading;
    left_out.push_back({{"gauge", row.code},
                        {"name", name_of(language, left.kind)},
                        {"setting", std::string(kind_of(missing).code) + "-target"},
                        {"reason", reason_of(language, left)}});
  }
  const Json cautions = Json::array({{{"heading", say(language, "template.verify")},
                                      {"text", say(language, "template.verify.text")}},
                                     {{"heading", say(language, "template.cautions")},
                                      {"text", say(language, "template.cautions.text")}}});
  return dumped({{"revision", revision},
                 {"language", code_of(language)},
                 {"unit", offer.style.inches ? "in" : "mm"},
                 {"gauges", gauges},
                 {"left_out", left_out},
                 {"pages", {{"a4", offer.pages_a4}, {"letter", offer.pages_letter}}},
                 {"notes",
                  {say(language, "template.cut"), say(language, "template.makers"),
                   say(language, "template.layers")}},
                 {"cautions", cautions}});
}

}  // namespace batten

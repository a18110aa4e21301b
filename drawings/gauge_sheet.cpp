#include "drawings/gauge_sheet.hpp"

#include "core/language/language.hpp"
#include "core/regulation/gauges/sheets.hpp"
#include "core/regulation/gauges/stroke_letters.hpp"
#include "drawings/svg.hpp"

#include <fmt/format.h>

namespace batten {
namespace {

// To a ten-thousandth of a millimetre, no trailing zeros.
std::string mm(double value) {
  std::string text = fmt::format("{:.4f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

class Sheet {
 public:
  Sheet(const CuttingSheet& sheet, std::span<const GaugePiece> pieces)
      : sheet_(sheet), pieces_(pieces) {}

  std::string cut() const {
    std::string out;
    for (const PlacedPiece& p : sheet_.pieces) {
      const GaugePiece& piece = pieces_[p.piece];
      out += fmt::format("<g><title>{}</title>\n<path d=\"{}Z\"/>\n", svg::escaped(piece.title),
                         path(piece.outline, p.at));
      for (const Round& hole : piece.holes)
        out += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"/>\n", mm(p.at.x + hole.centre.x),
                           mm(down(p.at.y + hole.centre.y)), mm(hole.radius));
      out += "</g>\n";
    }
    return out;
  }

  std::string engrave() const {
    std::string out;
    for (const PlacedPiece& p : sheet_.pieces)
      for (const Engraving& line : pieces_[p.piece].engravings)
        out += words(line.text, line.height, {p.at.x + line.at.x, p.at.y + line.at.y});
    return out;
  }

  std::string check(const std::string& text) const {
    const Spot a = sheet_.bar_from, b = sheet_.bar_to;
    constexpr double tick = 2;
    std::string d;
    for (const auto& [from, to] :
         {std::pair{a, b}, std::pair{Spot{a.x, a.y - tick}, Spot{a.x, a.y + tick}},
          std::pair{Spot{b.x, b.y - tick}, Spot{b.x, b.y + tick}}})
      d += path(std::vector<Spot>{from, to}, {});
    return fmt::format("<path d=\"{}\"/>\n", d) + words(text, 3, {a.x + 3, a.y + 2});
  }

 private:
  double down(double y) const { return sheet_.height - y; }

  // "M0 0L10 0"
  template <class Spots>
  std::string path(const Spots& spots, Spot at) const {
    std::string d;
    for (const auto& s : spots)
      d += fmt::format("{}{} {}", d.empty() ? "M" : "L", mm(at.x + s.x), mm(down(at.y + s.y)));
    return d;
  }

  std::string words(const std::string& text, double height, Spot at) const {
    std::string d;
    for (const auto& stroke : letters::strokes(text, height)) d += path(stroke, at);
    return fmt::format("<path d=\"{}\"><title>{}</title></path>\n", d, svg::escaped(text));
  }

  const CuttingSheet& sheet_;
  std::span<const GaugePiece> pieces_;
};

}  // namespace

std::string gauges_svg(std::span<const GaugePiece> pieces, const GaugeStyle& style) {
  const CuttingSheet sheet = cutting_sheet(pieces);
  const Sheet drawn(sheet, pieces);
  return fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 "
      "{0} {1}\" lang=\"{2}\" role=\"img\" aria-labelledby=\"title desc\">\n"
      "<title id=\"title\">{3}</title>\n<desc id=\"desc\">{4}</desc>\n"
      "<g id=\"cut\" fill=\"none\" stroke=\"#c00000\" stroke-width=\"0.1\">\n{5}</g>\n"
      "<g id=\"engrave\" fill=\"none\" stroke=\"#0000c0\" stroke-width=\"0.1\" "
      "stroke-linecap=\"round\" stroke-linejoin=\"round\">\n{6}</g>\n"
      "<g id=\"check\" fill=\"none\" stroke=\"#606060\" stroke-width=\"0.1\">\n{7}</g>\n</svg>\n",
      mm(sheet.width), mm(sheet.height), code_of(style.language),
      svg::escaped(say(style.language, "template.title")),
      svg::escaped(say(style.language, "template.layers")), drawn.cut(), drawn.engrave(),
      drawn.check(say(style.language, "template.bar.mm")));
}

}  // namespace batten

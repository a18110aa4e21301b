#include "reports/template_pages.hpp"

#include "core/language/language.hpp"
#include "core/regulation/gauges/sheets.hpp"
#include "core/regulation/gauges/stroke_letters.hpp"
#include "reports/flow.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace batten::paper {
namespace {

constexpr double inch_pt = 72;
// Kept free for the bars: at the right edge, at the foot.
constexpr double bar_column = 25 * mm, bar_foot = 15 * mm;
constexpr double outline_width = 0.35, measure_width = 0.4;
// Capitals of DejaVu Sans over its size (OS/2 table, sCapHeight 1493 of 2048).
constexpr double cap_height = 0.729;

class TemplatePages {
 public:
  TemplatePages(const SheetHeading& heading, const TemplateOptions& options)
      : style_(options.style),
        flow_(options.paper, heading, say(options.style.language, "template.title"),
              options.style.language) {
    draw_bars();
  }

  void words(const std::string& lead, const std::string& text, double before = 5) {
    const double width = text_width();
    const double height = flow_.page().paragraph_height(width, lead, text);
    if (flow_.y + before + height > bottom()) new_page();
    flow_.y += before;
    flow_.y += flow_.page().paragraph(flow_.left(), flow_.y, width, lead, text);
  }
  void rule() {
    flow_.y += 6;
    flow_.page().line(flow_.left(), flow_.y, flow_.left() + text_width(), flow_.y, 0.5, rule_grey);
    flow_.y += 2;
  }

  void pieces(const std::vector<GaugePiece>& all) {
    if (all.empty()) return;
    new_page();
    const double gap = 6;
    const auto sheets = lay_out(all, text_width() / mm, (bottom() - flow_.y) / mm, gap);
    for (std::size_t i = 0; i < sheets.size(); ++i) {
      if (i > 0) new_page();
      for (const PlacedPiece& p : sheets[i].pieces)
        piece(all[p.piece],
              {flow_.left() + p.at.x * mm, flow_.y + (sheets[i].height - p.at.y) * mm});
    }
  }

  std::vector<std::unique_ptr<Page>> finish() { return flow_.finish(); }

 private:
  double text_width() const { return flow_.width() - bar_column; }
  double bottom() const { return flow_.bottom() - bar_foot; }
  void new_page() {
    flow_.new_page();
    draw_bars();
  }

  enum class Side { above, below, across };
  // A bar between two strokes, exactly `length` from the middle of one to that of the other.
  void bar(double x, double y, double length, Side words, const std::string& text) {
    Page& page = flow_.page();
    constexpr double tick = 2 * mm;
    const double width = page.text_width(text, {small}) + 6, height = small + 3;
    Box cell{x - width / 2, y - height - 1, width, height};
    if (words == Side::across) {
      page.line(x, y, x + length, y, 0.8);
      for (const double end : {x, x + length}) page.line(end, y - tick, end, y + tick, 0.5);
      cell.left += length / 2;
      cell.top = y - height / 2;
      page.fill(cell, 1);
    } else {
      page.line(x, y, x, y + length, 0.8);
      for (const double end : {y, y + length}) page.line(x - tick, end, x + tick, end, 0.5);
      if (words == Side::below) cell.top = y + length + 1;
    }
    page.text(cell, text, {small}, Align::centre);
  }

  void draw_bars() {
    const double right = flow_.left() + flow_.width(), foot = flow_.bottom() - 3 * mm;
    const std::string metric = say(style_.language, "template.bar.mm"),
                      imperial = say(style_.language, "template.bar.inch");
    const double top = flow_.y + 6 * mm;
    bar(right - 7 * mm, top, 100 * mm, Side::below, metric);
    bar(right - 17 * mm, top, 4 * inch_pt, Side::above, imperial);
    bar(flow_.left(), foot, 100 * mm, Side::across, metric);
    bar(flow_.left(), foot - 7 * mm, 4 * inch_pt, Side::across, imperial);
    const double beside = flow_.left() + 4 * inch_pt + 5 * mm;
    flow_.page().paragraph(beside, foot - 9 * mm, right - beside, "",
                           say(style_.language, "template.remind"), {scale_size}, 3);
  }

  void piece(const GaugePiece& p, std::pair<double, double> origin) {
    const auto on_paper = [&](Spot s) {
      return std::pair{origin.first + s.x * mm, origin.second - s.y * mm};
    };
    const auto& pen = flow_.page().pen();
    for (const Measure& m : p.measures)
      measure(m, on_paper(m.from), on_paper(m.to), p.block ? 1 * mm : 2.5 * mm);
    pen->set_source_rgb(0, 0, 0);
    pen->set_line_width(outline_width);
    pen->begin_new_path();
    for (const Spot& s : p.outline) {
      const auto [x, y] = on_paper(s);
      pen->line_to(x, y);
    }
    pen->close_path();
    pen->stroke();
    for (const Round& hole : p.holes) {
      const auto [x, y] = on_paper(hole.centre);
      pen->begin_new_path();
      pen->arc(x, y, hole.radius * mm, 0, 2 * std::numbers::pi);
      pen->stroke();
    }
    for (const Engraving& line : p.engravings) {
      const auto [x, y] = on_paper(line.at);
      engrave(line, x, y);
    }
  }

  // Real words, as large as the engraved ones or as their room lets them be.
  void engrave(const Engraving& line, double x, double base) {
    const double middle = x + letters::width(line.text, line.height) / 2 * mm;
    const double room = line.room * mm, height = line.height * mm;
    double size = height / cap_height;
    size *= std::min(1.0, room / flow_.page().text_width(line.text, {size}));
    flow_.page().text({middle - room / 2 - 0.5, base - height, room + 1, height}, line.text, {size},
                      Align::centre);
  }

  // Both edges touched by an arrow, and drawn out where the outline does not reach.
  void measure(const Measure& m, std::pair<double, double> from, std::pair<double, double> to,
               double reach) {
    Page& page = flow_.page();
    constexpr double barb = 0.9 * mm, grey = 0.55;
    const bool upright = m.from.x == m.to.x;
    for (const auto& [x, y] : {from, to}) {
      if (upright)
        page.line(x - reach, y, x + reach, y, measure_width, grey);
      else
        page.line(x, y - reach, x, y + reach, measure_width, grey);
    }
    page.line(from.first, from.second, to.first, to.second, measure_width, grey);
    // No room for heads between edges so near.
    if (std::hypot(to.first - from.first, to.second - from.second) < 4 * barb) return;
    const auto head = [&](std::pair<double, double> tip, double sign) {
      for (const double side : {-0.5, 0.5}) {
        const double along = sign * barb, across = side * barb;
        page.line(tip.first, tip.second, tip.first + (upright ? across : along),
                  tip.second + (upright ? along : across), measure_width, grey);
      }
    };
    head(from, upright ? -1 : 1);
    head(to, upright ? 1 : -1);
  }

  GaugeStyle style_;
  Flow flow_;
};

void tell_gauge(TemplatePages& pages, const Gauge& gauge, const std::vector<GaugePiece>& all,
                const GaugeStyle& style) {
  const Language l = style.language;
  std::string sizes;
  for (const GaugeSize& s : gauge.sizes)
    sizes += (sizes.empty() ? "" : " · ") + size_text(s.mm, style) + " " +
             notes_text(s.notes, gauge.asked);
  std::string text = sizes + ". " + use_of(l, gauge.kind);
  const auto any = [&](auto has) {
    return std::ranges::any_of(all,
                               [&](const GaugePiece& p) { return p.kind == gauge.kind && has(p); });
  };
  if (any([](const GaugePiece& p) { return p.stock.has_value(); }))
    text += " " + say(l, "gauge.stock.use");
  if (any([](const GaugePiece& p) { return p.block; }))
    text += " " + say(l, gauge.kind == GaugeKind::dip ? "gauge.block.dip" : "gauge.block.use");
  if (gauge.sizes.size() > 1)
    text += " " + say(l, "template.within", {{"within", size_text(gauge.within, style, 3)}});
  pages.words(capital(name_of(l, gauge.kind)), text);
}

}  // namespace

std::vector<std::unique_ptr<Page>> compose_template(const GaugeSet& set,
                                                    const SheetHeading& heading,
                                                    const TemplateOptions& options) {
  const Language l = options.style.language;
  const auto pieces = shape_pieces(set, options.style);
  TemplatePages pages(heading, options);
  pages.words(say(l, "template.verify"), say(l, "template.verify.text"), 0);
  pages.words("", say(l, "template.cut"));
  pages.words(say(l, "template.cautions"), say(l, "template.cautions.text"));
  pages.words("", say(l, "template.makers"));
  pages.rule();
  for (const Gauge& gauge : set.gauges) tell_gauge(pages, gauge, pieces, options.style);
  for (const GaugeLeftOut& left : set.left_out)
    pages.words(say(l, "gauge.none.title") + ": " + name_of(l, left.kind), reason_of(l, left));
  pages.pieces(pieces);
  return pages.finish();
}

}  // namespace batten::paper

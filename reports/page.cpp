#include "reports/page.hpp"

#include "reports/leak_exceptions.hpp"

#include <pangomm/attributes.h>
#include <pangomm/attrlist.h>
#include <pangomm/context.h>
#include <pangomm/fontdescription.h>
#include <pangomm/init.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace batten::paper {
namespace {

// Height of capitals and figures of DejaVu Sans over its size (OS/2 table, sCapHeight 1493 of
// 2048).
constexpr double cap_height = 0.729;

constexpr double beyond = 72;

double points(int pango_units) { return static_cast<double>(pango_units) / PANGO_SCALE; }

Box to_box(const Pango::Rectangle& r, double left, double top) {
  return {left + points(r.get_x()), top + points(r.get_y()), points(r.get_width()),
          points(r.get_height())};
}

}  // namespace

bool Box::holds(const Box& other, double slack) const {
  return other.left >= left - slack && other.right() <= right() + slack &&
         other.top >= top - slack && other.bottom() <= bottom() + slack;
}

bool Box::meets(const Box& other) const {
  return other.left < right() && left < other.right() && other.top < bottom() &&
         top < other.bottom();
}

Page::Page(double width, double height)
    : width_(width),
      height_(height),
      // Bounded, because cairo 1.16 leaks an unbounded recording painted as PDF; a hand's breadth
      // beyond the paper, so that ink which leaves it is still found.
      surface_(Cairo::RecordingSurface::create(
          {-beyond, -beyond, width + 2 * beyond, height + 2 * beyond},
          Cairo::Content::CONTENT_COLOR_ALPHA)),
      pen_(Cairo::Context::create(surface_)) {
  // The wrappers want it before their first object; more than once does no harm.
  Pango::init();
  know_leak_exceptions();
}

Glib::RefPtr<Pango::Layout> Page::set(std::string_view text, Type type) const {
  auto layout = Pango::Layout::create(pen_);
  // Without hinting the words are as wide on paper as on a screen, so one layout serves both.
  Cairo::FontOptions options;
  options.set_hint_style(Cairo::FontOptions::HintStyle::NONE);
  options.set_hint_metrics(Cairo::FontOptions::HintMetrics::OFF);
  options.set_antialias(Cairo::Antialias::ANTIALIAS_GRAY);
  auto context = layout->get_context();
  context->set_cairo_font_options(options);
  pango_context_set_round_glyph_positions(context->gobj(), 0);
  layout->context_changed();
  Pango::FontDescription font;
  font.set_family("DejaVu Sans");
  font.set_weight(type.bold ? Pango::Weight::BOLD : Pango::Weight::NORMAL);
  font.set_absolute_size(type.size * PANGO_SCALE);
  layout->set_font_description(font);
  layout->set_text(Glib::ustring(std::string(text)));
  return layout;
}

void Page::show(const Glib::RefPtr<Pango::Layout>& layout, double left, double top, Type type,
                const Box& cell) {
  pen_->set_source_rgb(type.grey, type.grey, type.grey);
  pen_->move_to(left, top);
  layout->show_in_cairo_context(pen_);
  // Words leave a current point behind, from which the next stroke would start.
  pen_->begin_new_path();
  texts_.push_back({layout->get_text(), cell, to_box(layout->get_ink_extents(), left, top),
                    type.size, layout->is_ellipsized()});
}

void Page::text(const Box& cell, std::string_view text, Type type, Align align) {
  if (text.empty()) return;
  auto layout = set(text, type);
  layout->set_single_paragraph_mode(true);
  double width = points(layout->get_logical_extents().get_width());
  if (width > cell.width + 0.01) {
    layout->set_width(static_cast<int>(cell.width * PANGO_SCALE));
    layout->set_ellipsize(Pango::EllipsizeMode::END);
    width = points(layout->get_logical_extents().get_width());
  }
  const double room = cell.width - width;
  const double left = cell.left + (align == Align::left    ? 0
                                   : align == Align::right ? room
                                                           : room / 2);
  const double baseline = cell.middle() + cap_height * type.size / 2;
  show(layout, left, baseline - points(layout->get_baseline()), type, cell);
}

Glib::RefPtr<Pango::Layout> Page::set_paragraph(double width, std::string_view lead,
                                                std::string_view text, Type type,
                                                int max_lines) const {
  std::string all(lead);
  if (!lead.empty() && !text.empty()) all += "  ";
  all += text;
  auto layout = set(all, type);
  layout->set_width(static_cast<int>(width * PANGO_SCALE));
  layout->set_wrap(Pango::WrapMode::WORD_CHAR);
  if (max_lines > 0) {
    layout->set_height(-max_lines);
    layout->set_ellipsize(Pango::EllipsizeMode::END);
  }
  if (!lead.empty()) {
    Pango::AttrList attributes;
    auto bold = Pango::Attribute::create_attr_weight(Pango::Weight::BOLD);
    bold.set_start_index(0);
    bold.set_end_index(static_cast<unsigned>(lead.size()));
    attributes.insert(bold);
    layout->set_attributes(attributes);
  }
  return layout;
}

double Page::paragraph(double left, double top, double width, std::string_view lead,
                       std::string_view text, Type type, int max_lines) {
  auto layout = set_paragraph(width, lead, text, type, max_lines);
  const double height = points(layout->get_logical_extents().get_height());
  show(layout, left, top, type, {left, top, width, height});
  return height;
}

double Page::paragraph_height(double width, std::string_view lead, std::string_view text, Type type,
                              int max_lines) const {
  return points(
      set_paragraph(width, lead, text, type, max_lines)->get_logical_extents().get_height());
}

double Page::text_width(std::string_view text, Type type) const {
  return points(set(text, type)->get_logical_extents().get_width());
}

void Page::line(double x1, double y1, double x2, double y2, double width, double grey) {
  pen_->set_source_rgb(grey, grey, grey);
  pen_->set_line_width(width);
  pen_->begin_new_path();
  pen_->move_to(x1, y1);
  pen_->line_to(x2, y2);
  pen_->stroke();
}

void Page::dashed(double x1, double y1, double x2, double y2, double width, double grey,
                  double dash) {
  pen_->set_dash(std::vector<double>{dash, dash}, 0);
  line(x1, y1, x2, y2, width, grey);
  pen_->unset_dash();
}

void Page::outline(const Box& box, double width, double grey) {
  pen_->set_source_rgb(grey, grey, grey);
  pen_->set_line_width(width);
  pen_->rectangle(box.left, box.top, box.width, box.height);
  pen_->stroke();
}

void Page::fill(const Box& box, double grey) {
  pen_->set_source_rgb(grey, grey, grey);
  pen_->rectangle(box.left, box.top, box.width, box.height);
  pen_->fill();
}

void Page::hatch(const Box& box, double spacing, double width, double grey) {
  pen_->save();
  pen_->rectangle(box.left, box.top, box.width, box.height);
  pen_->clip();
  pen_->set_source_rgb(grey, grey, grey);
  pen_->set_line_width(width);
  const int strokes = static_cast<int>((box.width + box.height) / spacing) + 1;
  for (int i = 0; i < strokes; ++i) {
    const double x = box.left + i * spacing;
    pen_->move_to(x, box.top);
    pen_->line_to(x - box.height, box.bottom());
  }
  pen_->stroke();
  pen_->restore();
}

void Page::polygon(const std::vector<std::pair<double, double>>& corners, double grey) {
  pen_->set_source_rgb(grey, grey, grey);
  pen_->begin_new_path();
  for (const auto& [x, y] : corners) pen_->line_to(x, y);
  pen_->close_path();
  pen_->fill();
}

void Page::dot(double x, double y, double radius, double grey) {
  pen_->set_source_rgb(grey, grey, grey);
  pen_->begin_new_path();
  pen_->arc(x, y, radius, 0, 2 * std::numbers::pi);
  pen_->fill();
}

void Page::ring(double x, double y, double radius, double width) {
  dot(x, y, radius, 1);
  pen_->set_source_rgb(0, 0, 0);
  pen_->set_line_width(width);
  pen_->begin_new_path();
  pen_->arc(x, y, radius - width / 2, 0, 2 * std::numbers::pi);
  pen_->stroke();
}

void Page::tick_box(double left, double top) {
  // The stroke lies inside, so that the printed square measures 5 mm.
  const double stroke = 0.9;
  const Box inside{left + stroke / 2, top + stroke / 2, tick_size - stroke, tick_size - stroke};
  fill({left, top, tick_size, tick_size}, 1);
  outline(inside, stroke);
  tick_boxes_.push_back({left, top, tick_size, tick_size});
}

void Page::picture(const Box& box, const Cairo::RefPtr<Cairo::ImageSurface>& image) {
  const double scale = std::min(box.width / image->get_width(), box.height / image->get_height());
  pen_->save();
  pen_->translate(box.left, box.top);
  pen_->scale(scale, scale);
  pen_->set_source(image, 0, 0);
  pen_->paint();
  pen_->restore();
}

Box Page::ink() const {
  const auto extents = surface_->ink_extents();
  return {extents.x, extents.y, extents.width, extents.height};
}

void Page::paint(const Cairo::RefPtr<Cairo::Context>& target) const {
  target->set_source(surface_, 0, 0);
  target->paint();
}

}  // namespace batten::paper

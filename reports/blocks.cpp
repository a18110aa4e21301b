#include "reports/blocks.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>

namespace batten::paper {
namespace {

constexpr double gap = 4;       // below a block
constexpr double bullet = 9;    // before an item
constexpr double cell_gap = 9;  // between columns
constexpr double table_gutter = 14;
constexpr double box_inset = 6;

// Width of the widest word: a head may be broken between words.
double widest_word(const Page& page, std::string_view text, Type type) {
  double widest = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(' '), text.size());
    widest = std::max(widest, page.text_width(text.substr(0, end), type));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return widest;
}

}  // namespace

BlockSizes smaller(const BlockSizes& s) {
  const auto less = [](double size, double by) { return std::max(small, size - by); };
  return {less(s.text, 0.5), less(s.figures, 0.5), less(s.means, 0.25),
          s.quiet,           s.heading - 0.5,      s.table};
}

double BlockSetter::set(Page& page, const PageBlock& b, double left, double top, bool ink) const {
  switch (b.kind) {
    case BlockKind::heading:
    case BlockKind::subheading:
      return heading(page, b, left, top, ink);
    case BlockKind::text:
    case BlockKind::quiet:
      return paragraph(page, b, left, top, ink);
    case BlockKind::caution:
      return caution(page, b, left, top, ink);
    case BlockKind::list:
      return list(page, b, left, top, ink);
    case BlockKind::figures:
      return figures(page, b, left, top, ink);
    case BlockKind::strip:
      return strip(page, b, left, top, ink);
    case BlockKind::table:
      return table(page, b, left, top, ink);
    case BlockKind::sign:
      return sign(page, b, left, top, ink);
  }
  return 0;
}

double BlockSetter::heading(Page& page, const PageBlock& b, double left, double top,
                            bool ink) const {
  const bool large = b.kind == BlockKind::heading;
  const Type type{.size = large ? sizes_.heading : sizes_.text, .bold = true};
  const double before = large ? 4.5 : 3;
  const double height = page.paragraph_height(width_, "", b.text, type, 2);
  if (ink) page.paragraph(left, top + before, width_, "", b.text, type, 2);
  return before + height + 2;
}

double BlockSetter::paragraph(Page& page, const PageBlock& b, double left, double top,
                              bool ink) const {
  const Type type = b.kind == BlockKind::quiet ? Type{.size = sizes_.quiet, .grey = quiet}
                                               : Type{.size = sizes_.text};
  const double height = page.paragraph_height(width_, b.lead, b.text, type);
  if (ink) page.paragraph(left, top, width_, b.lead, b.text, type);
  return height + gap;
}

double BlockSetter::caution(Page& page, const PageBlock& b, double left, double top,
                            bool ink) const {
  const Type type{.size = sizes_.text};
  const double inner = width_ - 2 * box_inset;
  const double height = page.paragraph_height(inner, b.lead, b.text, type);
  if (ink) {
    page.outline({left, top + 1, width_, height + 2 * box_inset - 2}, 1.2);
    page.paragraph(left + box_inset, top + box_inset, inner, b.lead, b.text, type);
  }
  return height + 2 * box_inset + gap;
}

double BlockSetter::list(Page& page, const PageBlock& b, double left, double top, bool ink) const {
  const Type type{.size = sizes_.text};
  double y = top;
  for (const PageItem& item : b.items) {
    const double height = page.paragraph_height(width_ - bullet, item.lead, item.text, type);
    if (ink) {
      page.dot(left + 2.5, y + sizes_.text * 0.62, 1.3);
      page.paragraph(left + bullet, y, width_ - bullet, item.lead, item.text, type);
    }
    y += height + 1.5;
  }
  return y - top + below_list;
}

double BlockSetter::figures(Page& page, const PageBlock& b, double left, double top,
                            bool ink) const {
  if (b.columns.empty()) return 0;
  const Type type{.size = sizes_.figures}, head{.size = sizes_.quiet, .grey = quiet},
      means{.size = sizes_.means, .grey = quiet};
  std::vector<double> widths(b.columns.size(), 0);
  double taken = 0;
  for (std::size_t c = 1; c < b.columns.size(); ++c) {
    widths[c] = widest_word(page, b.columns[c], head);
    for (const PageRow& r : b.rows)
      widths[c] = std::max(widths[c], page.text_width(r.cells[c], type));
    widths[c] += 0.5;
    taken += widths[c] + cell_gap;
  }
  // A cell too long for its column is cut rather than pushed over the edge.
  widths[0] = std::max(width_ - taken, width_ / 4);
  if (taken > width_ * 3 / 4)
    for (std::size_t c = 1; c < widths.size(); ++c)
      widths[c] = width_ * 3 / 4 / static_cast<double>(widths.size() - 1) - cell_gap;

  double y = top;
  double head_height = 0;
  for (std::size_t c = 0; c < widths.size(); ++c)
    head_height =
        std::max(head_height, page.paragraph_height(widths[c], "", b.columns[c], head, 3));
  if (ink) {
    double x = left;
    for (std::size_t c = 0; c < widths.size(); ++c) {
      if (!b.columns[c].empty()) page.paragraph(x, y, widths[c], "", b.columns[c], head, 3);
      x += widths[c] + cell_gap;
    }
    page.line(left, y + head_height + 1, left + width_, y + head_height + 1, 0.8);
  }
  y += head_height + 3;
  for (const PageRow& r : b.rows) {
    const double line = page.paragraph_height(widths[0], "", r.cells[0], type, 2);
    if (ink) {
      page.paragraph(left, y, widths[0], "", r.cells[0], type, 2);
      double x = left + widths[0] + cell_gap;
      const double one = page.paragraph_height(width_, "", "0", type, 1);
      for (std::size_t c = 1; c < widths.size(); ++c) {
        page.text({x, y, widths[c], one}, r.cells[c], type);
        x += widths[c] + cell_gap;
      }
    }
    y += line;
    if (!r.means.empty()) {
      const double height = page.paragraph_height(width_, "", r.means, means);
      if (ink) page.paragraph(left, y, width_, "", r.means, means);
      y += height;
    }
    y += 1.5;
    if (ink) page.line(left, y, left + width_, y, 0.3, 0.7);
    y += 1.5;
  }
  return y - top + gap;
}

double BlockSetter::strip(Page& page, const PageBlock& b, double left, double top, bool ink) const {
  constexpr double half = 9.5, most = 2.2, between = 2, keys = 7, names = 10;
  const Type words{.size = sizes_.text, .bold = true}, label{.size = sizes_.quiet};
  const double text_height = page.paragraph_height(width_, "", b.text, words, 2);
  const double height = text_height + 2 + 4 * half + between + 2 + keys + names;
  if (!ink) return height + gap;
  page.paragraph(left, top, width_, "", b.text, words, 2);
  const double label_width = std::max(page.text_width(composed_->before, label),
                                      page.text_width(composed_->after, label)) +
                             6;
  const Compass compass = composed_->compass;
  const double from = left + label_width, wide = width_ - label_width;
  const double each = wide / compass.count();
  const auto middle_of = [&](Key key) { return from + (compass.position(key) + 0.5) * each; };
  double y = top + text_height + 2;
  for (const bool after : {false, true}) {
    const double middle = y + half, band = half / most;
    page.text({left, middle - 6, label_width - 4, 12}, after ? composed_->after : composed_->before,
              label);
    const Box tolerance{from, middle - band, wide, 2 * band};
    page.fill(tolerance, band_grey);
    page.hatch(tolerance, 4, 0.3, rule_grey);
    page.line(from, middle, from + wide, middle, 0.6, quiet);
    for (const StripMark& mark : b.marks) {
      if (!compass.contains(mark.key)) continue;
      const double off = after ? mark.after : mark.before;
      const double reach = std::clamp(off, -most, most) * half / most;
      const bool outside = std::abs(off) > 1;
      const double x = middle_of(mark.key);
      page.line(x, middle, x, middle - reach, outside ? each * 0.6 : each * 0.3,
                outside ? black : quiet);
      // Right on it there is still something to see.
      if (std::abs(reach) < 0.8) page.dot(x, middle, 0.8, quiet);
    }
    y += 2 * half + (after ? 2 : between);
  }
  for (int i = 0; i < compass.count(); ++i) {
    const Key key = compass.at(i);
    if (is_sharp(key)) page.fill({from + i * each, y, each, keys * 0.62}, black);
    if (note_name(key).starts_with("C") && !is_sharp(key)) {
      page.line(from + i * each, y, from + i * each, y + keys, 0.4, rule_grey);
      const std::string name = note_name(key);
      const double room = page.text_width(name, label) + 0.5;
      const double x = std::min(middle_of(key) - room / 2, from + wide - room);
      page.text({x, y + keys, room, names}, name, label);
    }
  }
  page.outline({from, y, wide, keys}, 0.5, quiet);
  return height + gap;
}

BlockSetter::TableShape BlockSetter::shape(const Page& page, const PageBlock& b) const {
  const Type bold{.size = sizes_.table, .bold = true};
  TableShape s;
  for (std::size_t c = 0; c < b.columns.size(); ++c) {
    double width = page.text_width(b.columns[c], bold);
    for (const PageRow& r : b.rows) width = std::max(width, page.text_width(r.cells[c], bold));
    s.columns.push_back(width + 0.5);
    s.width += width + 0.5 + (c == 0 ? 0 : cell_gap);
  }
  // One that is too wide keeps its first column and shares the rest.
  if (s.width > width_ && s.columns.size() > 1) {
    const double first = std::min(s.columns[0], width_ / 3);
    const auto others = static_cast<double>(s.columns.size() - 1);
    for (std::size_t c = 0; c < s.columns.size(); ++c)
      s.columns[c] = c == 0 ? first : (width_ - first) / others - cell_gap;
    s.width = width_;
  }
  s.row = sizes_.table * 1.45;
  s.head = s.row + 3;
  if (b.rows.size() > 6)
    s.beside = std::max<std::size_t>(
        1, static_cast<std::size_t>((width_ + table_gutter) / (s.width + table_gutter)));
  return s;
}

void BlockSetter::table_part(Page& page, const PageBlock& b, const TableShape& s, std::size_t from,
                             std::size_t to, double left, double top) const {
  const auto cells = [&](const std::vector<std::string>& texts, double y, Type type) {
    double x = left;
    for (std::size_t c = 0; c < s.columns.size(); ++c) {
      page.text({x, y, s.columns[c], s.row}, texts[c], type, c == 0 ? Align::left : Align::right);
      x += s.columns[c] + cell_gap;
    }
  };
  cells(b.columns, top, {.size = sizes_.table, .bold = true});
  page.line(left, top + s.row + 1, left + s.width, top + s.row + 1, 0.8);
  double y = top + s.head;
  for (std::size_t i = from; i < to; ++i) {
    cells(b.rows[i].cells, y, {.size = sizes_.table, .bold = b.rows[i].marked});
    y += s.row;
    page.line(left, y, left + s.width, y, 0.25, 0.8);
  }
}

double BlockSetter::table(Page& page, const PageBlock& b, double left, double top, bool ink) const {
  const TableShape s = shape(page, b);
  const std::size_t high = (b.rows.size() + s.beside - 1) / s.beside;
  if (ink)
    for (std::size_t c = 0, from = 0; c < s.beside && from < b.rows.size(); ++c, from += high)
      table_part(page, b, s, from, std::min(from + high, b.rows.size()),
                 left + static_cast<double>(c) * (s.width + table_gutter), top);
  return s.head + static_cast<double>(high) * s.row + gap + 2;
}

double BlockSetter::sign(Page& page, const PageBlock& b, double left, double top, bool ink) const {
  constexpr double room = 30, line = 230;
  if (ink) {
    page.line(left, top + room, left + line, top + room, 0.8);
    page.text({left, top + room + 1, line, 12}, b.text, {.size = sizes_.quiet, .grey = quiet});
  }
  return room + 14 + gap;
}

}  // namespace batten::paper

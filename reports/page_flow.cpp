#include "reports/page_flow.hpp"

#include "core/language/language.hpp"
#include "reports/blocks.hpp"
#include "reports/failure.hpp"
#include "reports/page_fit.hpp"
#include "reports/pictures.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>

namespace batten::paper {
namespace {

constexpr double margin = 13 * mm;
constexpr double foot = 18;
constexpr double logo_height = 15 * mm, logo_width = 45 * mm;
constexpr double table_gutter = 14;
// Blocks up to this rank are given up last (core/regulation/handover/owner.cpp).
constexpr int dear_rank = 2;

struct Form {
  double width = 0, height = 0;
  explicit Form(Paper paper)
      : width(paper == Paper::a4 ? 210 * mm : 8.5 * 72),
        height(paper == Paper::a4 ? 297 * mm : 11 * 72) {}
  double inner() const { return width - 2 * margin; }
  double bottom() const { return height - margin - foot; }
};

// Name, lines and logo across the top; returns the height used, 0 without any.
double letterhead(Page& page, const Letterhead& own, double width) {
  double text_left = margin, high = 0;
  if (!own.logo.empty()) {
    try {
      const auto picture = picture_of(own.logo);
      const double scale =
          std::min(logo_width / picture->get_width(), logo_height / picture->get_height());
      page.picture({margin, margin, logo_width, logo_height}, picture);
      text_left += picture->get_width() * scale + 12;
      high = picture->get_height() * scale;
    } catch (const std::exception& failure) {
      throw ReportFailure({.happened = failure.what(),
                           .kept = "Nothing was printed.",
                           .todo = "Choose another logo, or none, in the workshop's settings."});
    }
  }
  const double room = margin + width - text_left;
  double y = margin;
  if (!own.name.empty())
    y += page.paragraph(text_left, y, room, "", own.name, {.size = 13, .bold = true}, 2);
  std::string lines;
  for (const std::string& line : own.lines) lines += (lines.empty() ? "" : " · ") + line;
  if (!lines.empty()) y += page.paragraph(text_left, y, room, "", lines, {.size = 8.5}, 2);
  high = std::max(high, y - margin);
  if (high <= 0) return 0;
  page.line(margin, margin + high + 4, margin + width, margin + high + 4, 0.5, quiet);
  return high + 10;
}

// Title, what page it is, the head's lines.
double title(Page& page, const ComposedPage& composed, double top, double width) {
  const Type name{.size = 17}, kind{.size = 10, .grey = quiet}, text{.size = 9.5};
  const double kind_width = std::min(page.text_width(composed.name, kind) + 1, width / 3);
  double y = top;
  page.text({margin + width - kind_width, y, kind_width, 22}, composed.name, kind, Align::right);
  y += page.paragraph(margin, y, width - kind_width - 12, "", composed.title, name, 2) + 1;
  for (const PageItem& item : composed.head)
    y += page.paragraph(margin, y, width, item.lead, item.text, text, 2);
  page.line(margin, y + 3, margin + width, y + 3, 1.2);
  return y + 7;
}

void feet(Sheets& sheets, const ComposedPage& composed, const Form& form) {
  const Language language = composed.language;
  const Type type{.size = small, .grey = quiet};
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    Page& page = *sheets[i];
    const double top = form.height - margin - 11;
    const std::string numbered =
        say(language, "page.number",
            {{"page", std::to_string(i + 1)}, {"pages", std::to_string(sheets.size())}});
    const double right = page.text_width(numbered, type) + 1;
    const std::string made = say(language, "page.made_with");
    const double made_width = page.text_width(made, type) + 1;
    page.text({margin, top, form.inner() - right - made_width - 28, 11},
              composed.name + " · " + composed.title, type);
    page.text({margin + form.inner() - right - made_width - 14, top, made_width, 11}, made, type);
    page.text({margin + form.inner() - right, top, right, 11}, numbered, type, Align::right);
  }
}

double total(Page& page, const BlockSetter& setter, const std::vector<PageBlock>& blocks) {
  double sum = 0;
  for (const PageBlock& b : blocks) sum += setter.set(page, b, 0, 0, false);
  return sum;
}

}  // namespace

Sheets set_on_one(const ComposedPage& composed, const PageSheetOptions& options) {
  const Form form(options.paper);
  Sheets sheets;
  sheets.push_back(std::make_unique<Page>(form.width, form.height));
  Page& page = *sheets.front();
  double y = margin + letterhead(page, options.letterhead, form.inner());
  y = title(page, composed, y, form.inner());
  const double room = form.bottom() - y;

  PageBlock said;
  said.kind = BlockKind::quiet;
  said.text = say(composed.language, "page.cut");
  std::vector<PageBlock> blocks = composed.blocks;
  std::vector<PageBlock> fitted;
  BlockSizes sizes;
  bool shortened = false;
  for (int attempt = 0;; ++attempt) {
    const BlockSetter setter(composed, form.inner(), sizes);
    // Whole first; a little smaller sooner than something left out.
    if (attempt < 2 && total(page, setter, blocks) > room) {
      sizes = smaller(sizes);
      continue;
    }
    Fitting fitting(page, blocks, setter, composed.language);
    fitted = fitting.fit(room);
    double used = fitting.sum();
    // Smaller once more before a picture or what the fingers feel is left out.
    if (attempt == 2 && fitting.deepest() > 0 && fitting.deepest() <= dear_rank) {
      sizes = smaller(sizes);
      continue;
    }
    if (fitting.cut() || shortened) {
      // Its own sentence takes room too.
      const double line = setter.set(page, said, 0, 0, false);
      fitted = fitting.fit(room - line);
      fitted.push_back(said);
      used = fitting.sum() + line;
    }
    if (used <= room || !shorten_longest(blocks, used - room)) {
      for (const PageBlock& b : fitted) y += setter.set(page, b, margin, y, true);
      break;
    }
    shortened = true;
  }
  feet(sheets, composed, form);
  return sheets;
}

namespace {

class Run {
 public:
  Run(const ComposedPage& composed, const PageSheetOptions& options)
      : composed_(composed), form_(options.paper), setter_(composed, form_.inner(), {}) {
    start();
    y_ = margin + letterhead(page(), options.letterhead, form_.inner());
    y_ = title(page(), composed, y_, form_.inner());
    top_ = y_;
  }

  void add(const PageBlock& b, double following) {
    switch (b.kind) {
      case BlockKind::list:
        for (const PageItem& item : b.items) {
          PageBlock one{.kind = BlockKind::list};
          one.items.push_back(item);
          whole_or_split(one, &one.items.front().text);
        }
        y_ += 2;
        return;
      case BlockKind::text:
      case BlockKind::quiet: {
        PageBlock one = b;
        whole_or_split(one, &one.text);
        return;
      }
      case BlockKind::table:
        table(b);
        return;
      default:
        need(setter_.set(page(), b, margin, y_, false) + following);
        y_ += setter_.set(page(), b, margin, y_, true);
    }
  }
  Sheets done() {
    feet(sheets_, composed_, form_);
    return std::move(sheets_);
  }

 private:
  Page& page() { return *sheets_.back(); }
  double room() const { return form_.bottom() - y_; }
  void start() { sheets_.push_back(std::make_unique<Page>(form_.width, form_.height)); }
  void next_sheet() {
    start();
    y_ = margin;
    page().text({margin, y_, form_.inner(), 14}, composed_.title, {.size = 10, .bold = true});
    page().line(margin, y_ + 17, margin + form_.inner(), y_ + 17, 1.2);
    top_ = y_ += 23;
  }
  void need(double height) {
    if (height > room() && y_ > top_ + 0.5) next_sheet();
  }

  // A paragraph longer than the sheet goes on over the next ones, split between words.
  void whole_or_split(PageBlock& b, std::string* text) {
    const double height = setter_.set(page(), b, margin, y_, false);
    if (height <= room()) {
      y_ += setter_.set(page(), b, margin, y_, true);
      return;
    }
    if (height <= (form_.bottom() - margin) / 2) {
      need(height);
      y_ += setter_.set(page(), b, margin, y_, true);
      return;
    }
    const std::string all = *text;
    std::size_t low = 0, high = all.size();
    while (low < high) {
      const std::size_t middle = (low + high + 1) / 2;
      *text = all.substr(0, break_before(all, middle));
      if (setter_.set(page(), b, margin, y_, false) <= room())
        low = middle;
      else
        high = middle - 1;
    }
    std::size_t end = break_before(all, low);
    if (end == 0 && y_ > top_ + 0.5) {
      *text = all;
      next_sheet();
      whole_or_split(b, text);
      return;
    }
    // A word longer than a sheet is cut where the sheet ends.
    if (end == 0) end = std::max<std::size_t>(character_before(all, low), 1);
    *text = all.substr(0, end);
    y_ += setter_.set(page(), b, margin, y_, true);
    if (end >= all.size()) return;
    *text = all.substr(end);
    if (!b.items.empty()) b.items.front().lead.clear();
    b.lead.clear();
    next_sheet();
    whole_or_split(b, text);
  }
  // The last blank before a place, behind which a line may begin; 0 where there is none.
  static std::size_t break_before(const std::string& text, std::size_t at) {
    if (at >= text.size()) return text.size();
    const std::size_t blank = text.rfind(' ', at);
    return blank == std::string::npos ? 0 : blank + 1;
  }
  static std::size_t character_before(const std::string& text, std::size_t at) {
    while (at > 0 && at < text.size() && (static_cast<unsigned char>(text[at]) & 0xc0U) == 0x80U)
      --at;
    return at;
  }

  void table(const PageBlock& b) {
    const auto shape = setter_.shape(page(), b);
    std::size_t from = 0;
    while (from < b.rows.size()) {
      need(shape.head + 4 * shape.row);
      const auto fits = static_cast<std::size_t>(std::max(1.0, (room() - shape.head) / shape.row));
      const std::size_t left = b.rows.size() - from;
      const std::size_t high = std::min(fits, (left + shape.beside - 1) / shape.beside);
      for (std::size_t c = 0; c < shape.beside && from < b.rows.size(); ++c) {
        const std::size_t to = std::min(from + high, b.rows.size());
        setter_.table_part(page(), b, shape, from, to,
                           margin + static_cast<double>(c) * (shape.width + table_gutter), y_);
        from = to;
      }
      y_ += shape.head + static_cast<double>(high) * shape.row + 6;
      if (from < b.rows.size()) next_sheet();
    }
  }

  const ComposedPage& composed_;
  Form form_;
  BlockSetter setter_;
  Sheets sheets_;
  double y_ = 0, top_ = 0;
};

}  // namespace

Sheets set_as_needed(const ComposedPage& composed, const PageSheetOptions& options) {
  Run run(composed, options);
  for (std::size_t i = 0; i < composed.blocks.size(); ++i) {
    const PageBlock& b = composed.blocks[i];
    // A heading does not stand alone at the foot.
    const bool heads = b.kind == BlockKind::heading || b.kind == BlockKind::subheading;
    run.add(b, heads ? 70 : 0);
  }
  return run.done();
}

}  // namespace batten::paper

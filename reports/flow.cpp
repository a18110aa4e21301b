#include "reports/flow.hpp"

#include <algorithm>
#include <utility>

namespace batten::paper {
namespace {

std::string joined(const std::string& a, const std::string& b, std::string_view between) {
  if (a.empty() || b.empty()) return a + b;
  return a + std::string(between) + b;
}

}  // namespace

Flow::Flow(Paper paper, const SheetHeading& heading, std::string title, Language language)
    : paper_width_(paper == Paper::a4 ? 210 * mm : 8.5 * 72),
      paper_height_(paper == Paper::a4 ? 297 * mm : 11 * 72),
      heading_(heading),
      title_(std::move(title)),
      language_(language) {
  pages_.push_back(std::make_unique<Page>(paper_width_, paper_height_));
  first_heading();
}

void Flow::first_heading() {
  y = margin;
  const double right_width = 150;
  const double name_width = width() - right_width - 10;
  const double right = left() + width() - right_width;
  page().text({right, y, right_width, 22}, title_, {.size = 16, .bold = true}, Align::right);
  page().text({right, y + 22, right_width, 15}, heading_.date, {.size = reading}, Align::right);
  double down = y;
  down += page().paragraph(left(), down, name_width, heading_.piano, "", {.size = 18}, 2);
  const std::string place = joined(heading_.place, heading_.visit_title, " · ");
  if (!place.empty()) {
    page().text({left(), down, name_width, 15}, place);
    down += 15;
  }
  double beside = y + 37;
  if (!heading_.prepared_by.empty()) {
    page().text({right, beside, right_width, 15}, heading_.prepared_by, {}, Align::right);
    beside += 15;
  }
  y = std::max(down, beside) + 4;
  page().line(left(), y, left() + width(), y, 1.2);
  y += 8;
  top_of_blocks_ = y;
}

void Flow::running_heading() {
  y = margin;
  const double right_width = page().text_width(heading_.date) + 1;
  const double date_width = std::min(right_width, width() / 3);
  page().text({left(), y, width() - date_width - 14, 15}, heading_.piano,
              {.size = reading, .bold = true});
  page().text({left() + width() - date_width, y, date_width, 15}, heading_.date, {}, Align::right);
  y += 18;
  page().line(left(), y, left() + width(), y, 1.2);
  y += 8;
  top_of_blocks_ = y;
}

void Flow::need(double height) {
  if (height > room() && y > top_of_blocks_ + 0.5) new_page();
}

void Flow::new_page() {
  pages_.push_back(std::make_unique<Page>(paper_width_, paper_height_));
  running_heading();
}

void Flow::headline(const std::string& words, double following) {
  need(20 + following);
  page().text({left(), y, width(), 18}, words, {.size = 13, .bold = true});
  y += 20;
}

std::vector<std::unique_ptr<Page>> Flow::finish() {
  const std::size_t count = pages_.size();
  for (std::size_t i = 0; i < count; ++i) {
    Page& sheet = *pages_[i];
    const double top = paper_height_ - margin - 11;
    const Type type{.size = small, .grey = quiet};
    const std::string numbered =
        say(language_, "page.number",
            {{"page", std::to_string(i + 1)}, {"pages", std::to_string(count)}});
    const double numbered_width = sheet.text_width(numbered, type) + 1;
    const std::string left_words = joined(title_, heading_.prepared_by, " · ");
    sheet.text({margin, top, width() - numbered_width - 14, 11}, left_words, type);
    sheet.text({margin + width() - numbered_width, top, numbered_width, 11}, numbered, type,
               Align::right);
  }
  return std::move(pages_);
}

}  // namespace batten::paper

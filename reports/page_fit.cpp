#include "reports/page_fit.hpp"

#include "core/language/language.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace batten::paper {
namespace {

std::size_t parts(const PageBlock& b) {
  return b.kind == BlockKind::list ? b.items.size() : b.rows.size();
}
bool has_parts(const PageBlock& b) {
  return (b.kind == BlockKind::list && !b.whole) || b.kind == BlockKind::figures;
}
bool can_give(const PageBlock& b) { return b.rank > 0 && (!has_parts(b) || parts(b) > b.least); }

}  // namespace

Fitting::Fitting(Page& page, std::vector<PageBlock> blocks, const BlockSetter& setter,
                 Language language)
    : page_(page),
      setter_(setter),
      blocks_(std::move(blocks)),
      gone_(blocks_.size(), 0),
      items_(blocks_.size()),
      language_(language) {
  for (std::size_t i = 0; i < blocks_.size(); ++i) {
    if (blocks_[i].kind == BlockKind::list)
      for (const PageItem& item : blocks_[i].items) items_[i].push_back(item_height(item));
    heights_.push_back(height_of(i));
  }
}

std::vector<PageBlock> Fitting::fit(double room) {
  while (sum() > room) {
    const auto i = next();
    if (!i) break;
    give(*i);
  }
  std::vector<PageBlock> out;
  for (std::size_t i = 0; i < blocks_.size(); ++i)
    if (heights_[i] > 0) out.push_back(shown(i));
  return out;
}

double Fitting::sum() const {
  double sum = 0;
  for (const double h : heights_) sum += h;
  return sum;
}

// The highest rank that can still give, the last of them.
std::optional<std::size_t> Fitting::next() const {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < blocks_.size(); ++i)
    if (heights_[i] > 0 && can_give(blocks_[i]) &&
        (!best || blocks_[i].rank >= blocks_[*best].rank))
      best = i;
  return best;
}

void Fitting::give(std::size_t i) {
  PageBlock& b = blocks_[i];
  // An empty line to sign on is no loss worth a word.
  cut_ = cut_ || b.kind != BlockKind::sign;
  deepest_ = deepest_ == 0 ? b.rank : std::min(deepest_, b.rank);
  if (!has_parts(b)) {
    heights_[i] = 0;
    return;
  }
  if (b.kind == BlockKind::list) {
    b.items.pop_back();
    items_[i].pop_back();
  } else {
    b.rows.pop_back();
  }
  ++gone_[i];
  heights_[i] = height_of(i);
}

double Fitting::item_height(const PageItem& item) const {
  PageBlock one{.kind = BlockKind::list};
  one.items.push_back(item);
  return setter_.set(page_, one, 0, 0, false) - BlockSetter::below_list;
}

// A list's items are measured once: there may be many, and they go one by one.
double Fitting::height_of(std::size_t i) const {
  if (blocks_[i].kind != BlockKind::list) return setter_.set(page_, blocks_[i], 0, 0, false);
  double sum = BlockSetter::below_list;
  for (const double h : items_[i]) sum += h;
  if (gone_[i] > 0) sum += item_height({"", more(i)});
  return sum;
}

std::string Fitting::more(std::size_t i) const {
  return say_count(language_, "page.more", gone_[i]);
}

PageBlock Fitting::shown(std::size_t i) const {
  PageBlock b = blocks_[i];
  if (gone_[i] > 0 && b.kind == BlockKind::list) b.items.push_back({"", more(i)});
  return b;
}

bool shorten_longest(std::vector<PageBlock>& blocks, double over) {
  const auto longest = std::ranges::max_element(blocks, {}, [](const PageBlock& b) {
    std::size_t size = b.kind == BlockKind::text ? b.text.size() : 0;
    for (const PageItem& item : b.items) size = std::max(size, item.text.size());
    return size;
  });
  if (longest == blocks.end()) return false;
  std::string* text = &longest->text;
  for (PageItem& item : longest->items)
    if (item.text.size() > text->size()) text = &item.text;
  if (text->size() < 40) return false;
  // Some 90 letters go into a line of 12 points.
  const auto much = static_cast<std::size_t>(over / 12 * 90);
  std::size_t end =
      std::min(text->size() * 4 / 5,
               std::max<std::size_t>(text->size() > much ? text->size() - much : 0, 120));
  while (end > 0 && (static_cast<unsigned char>((*text)[end]) & 0xc0U) == 0x80U) --end;
  text->resize(end);
  *text += "…";
  return true;
}

}  // namespace batten::paper

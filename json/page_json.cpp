#include "json/page_json.hpp"

#include "core/language/language.hpp"

namespace batten {

namespace {

const char* code(BlockKind kind) {
  switch (kind) {
    case BlockKind::heading:
      return "heading";
    case BlockKind::subheading:
      return "subheading";
    case BlockKind::text:
      return "text";
    case BlockKind::quiet:
      return "quiet";
    case BlockKind::caution:
      return "caution";
    case BlockKind::list:
      return "list";
    case BlockKind::figures:
      return "figures";
    case BlockKind::strip:
      return "strip";
    case BlockKind::table:
      return "table";
    case BlockKind::sign:
      return "sign";
  }
  return "";
}

Json items_json(const std::vector<PageItem>& items) {
  Json list = Json::array();
  for (const PageItem& i : items) list.push_back({{"lead", i.lead}, {"text", i.text}});
  return list;
}

Json rows_json(const std::vector<PageRow>& rows) {
  Json list = Json::array();
  for (const PageRow& r : rows)
    list.push_back({{"cells", r.cells}, {"means", r.means}, {"marked", r.marked}});
  return list;
}

Json block_json(const PageBlock& b, const ComposedPage& page) {
  Json j{{"kind", code(b.kind)}, {"rank", b.rank}, {"least", b.least}};
  switch (b.kind) {
    case BlockKind::text:
    case BlockKind::caution:
      j["lead"] = b.lead;
      j["text"] = b.text;
      break;
    case BlockKind::list:
      j["items"] = items_json(b.items);
      break;
    case BlockKind::figures:
    case BlockKind::table:
      j["columns"] = b.columns;
      j["rows"] = rows_json(b.rows);
      break;
    case BlockKind::strip: {
      j["text"] = b.text;
      j["before"] = page.before;
      j["after"] = page.after;
      j["lowest"] = page.compass.lowest.number;
      j["highest"] = page.compass.highest.number;
      Json marks = Json::array();
      for (const StripMark& m : b.marks)
        marks.push_back({m.key.number, rounded(m.before), rounded(m.after)});
      j["marks"] = std::move(marks);
      break;
    }
    case BlockKind::heading:
    case BlockKind::subheading:
    case BlockKind::quiet:
    case BlockKind::sign:
      j["text"] = b.text;
      break;
  }
  return j;
}

}  // namespace

Json page_json(const ComposedPage& page) {
  Json blocks = Json::array();
  for (const PageBlock& b : page.blocks) blocks.push_back(block_json(b, page));
  const auto said = [&](std::string_view key) { return say(page.language, key); };
  return {
      {"title", page.title},         {"head", items_json(page.head)},
      {"blocks", std::move(blocks)}, {"number", said("page.number")},
      {"cut", said("page.cut")},     {"more", {said("page.more.one"), said("page.more.other")}}};
}

}  // namespace batten

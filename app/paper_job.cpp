#include "app/paper_job.hpp"

#include "app/handover_job.hpp"
#include "app/line_job.hpp"

#include <map>
#include <utility>

namespace batten {

Letterhead letterhead_of(Desk& desk) {
  Letterhead own;
  std::map<std::string, std::string> shop = desk.store.shop();
  own.name = shop["letterhead-name"];
  std::string line;
  for (const char c : shop["letterhead-lines"] + ";") {
    if (c != ';' && c != '\n') {
      if (c != ' ' || !line.empty()) line += c;
      continue;
    }
    if (!line.empty()) own.lines.push_back(std::move(line));
    line.clear();
  }
  if (auto logo = desk.store.logo()) own.logo.assign(logo->bytes.begin(), logo->bytes.end());
  return own;
}

Result<HandoverPaper> handover_paper(Desk& desk, const Piano& piano, const PianoPlan& plan,
                                     const PageChoices& choices, HandoverPart part) {
  return guarded([&]() -> Result<HandoverPaper> {
    auto handover = hand_over(desk, piano, plan);
    if (!handover) return tl::unexpected(handover.error());
    auto facts = handover_facts(desk, piano, plan, *handover);
    if (!facts) return tl::unexpected(facts.error());
    HandoverPaper out;
    if (part != HandoverPart::file)
      out.pages.push_back({compose_owner_page(*facts, choices.style), Extent::one_sheet});
    if (part != HandoverPart::owner)
      out.pages.push_back({compose_file_sheet(*facts, choices.style), Extent::as_needed});
    const std::string what = part == HandoverPart::file ? "page.file.name" : "page.owner.name";
    out.options = {choices.paper, letterhead_of(desk),
                   say(choices.style.language, what) + ": " + piano.name,
                   print_timestamp(desk.now_ms())};
    return out;
  });
}

Result<PrintedPages> print_paper(const HandoverPaper& paper) {
  return guarded([&]() -> Result<PrintedPages> { return print_pages(paper.pages, paper.options); });
}

Result<std::string> picture_paper(const HandoverPaper& paper, int sheet, double dpi) {
  return guarded([&]() -> Result<std::string> {
    return picture_pages(paper.pages, paper.options, sheet, dpi);
  });
}

}  // namespace batten

#include "app/paper_choices.hpp"

#include <map>

namespace batten {

namespace {

std::string small(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

}  // namespace

Result<PageChoices> page_choices(Desk& desk, const PageAsked& asked) {
  return guarded([&]() -> Result<PageChoices> {
    std::map<std::string, std::string> shop = desk.store.shop();
    const auto chosen = [&](const std::string& said, const char* setting) {
      return small(said.empty() ? shop[setting] : said);
    };
    PageChoices out;
    if (const std::string code = chosen(asked.language, "language"); !code.empty()) {
      const auto language = language_of(code);
      if (!language)
        return problem("No page can be written in \"" + code + "\".",
                       "There are: en (English), de (Deutsch).");
      out.style.language = *language;
    }
    if (const std::string paper = chosen(asked.paper, "paper"); !paper.empty()) {
      if (paper != "a4" && paper != "letter")
        return problem("There is no paper \"" + paper + "\".", "There are: a4, letter.");
      out.paper = paper == "a4" ? Paper::a4 : Paper::letter;
    }
    const std::string unit = small(shop["unit"]);
    out.style.inches = asked.inches.value_or(unit == "in" || unit == "inches");
    return out;
  });
}

}  // namespace batten

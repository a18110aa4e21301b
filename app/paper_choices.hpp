// How a page is to be: language, paper, unit, letterhead. As asked, else as the workshop has it.
#pragma once

#include "app/desk.hpp"
#include "core/regulation/handover/said.hpp"
#include "reports/line_sheet.hpp"

#include <optional>
#include <string>

namespace batten {

// Empty, nothing: as the workshop's settings say, else English, A4, millimetres.
struct PageAsked {
  std::string language;  // "en", "de"
  std::string paper;     // "a4", "letter"
  std::optional<bool> inches;
};

struct PageChoices {
  PageStyle style;
  Paper paper = Paper::a4;
};

// Error: a language or paper there is none of.
Result<PageChoices> page_choices(Desk& desk, const PageAsked& asked);

}  // namespace batten

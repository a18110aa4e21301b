// The line: from what is on record to advice, on screen and on paper.
#pragma once

#include "app/desk.hpp"
#include "core/regulation/line/line.hpp"
#include "reports/line_sheet.hpp"

#include <filesystem>
#include <string>

namespace batten {

// calc_line of what stands in the piano's journal.
Result<Line> draw_line(Desk& desk, const Piano& piano);

struct SheetRequest {
  SheetOptions options;
  bool picture = false;  // PNG of one page instead of the PDF
  int page = 1;
  double dpi = 150;
};

// Draws the line and writes its sheet. Returns the number of pages.
Result<int> write_sheet(Desk& desk, const Piano& piano, const std::filesystem::path& file,
                        SheetRequest request);

// Of a Unix time in milliseconds: "25 November 2026" and "2026-11-25 14:00" where the user is (the
// system's time zone), "2026-11-25T13:00:00Z" for other programs.
std::string print_date(std::int64_t at_ms);
std::string print_clock(std::int64_t at_ms);
std::string print_timestamp(std::int64_t at_ms);

}  // namespace batten

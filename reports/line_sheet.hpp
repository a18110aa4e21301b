// The sheet of a line job: the strip, what to look at first, the worklist, cautions.
//
// Everything printed comes from the Line, the heading and the options: no clock, no host name, so
// the same values give the same bytes on one machine.
#pragma once

#include "core/regulation/line/line.hpp"
#include "reports/failure.hpp"

#include <filesystem>
#include <string>

namespace batten {

// Names the sheet; each text may be empty and of any length (too long a text is cut with "…").
struct SheetHeading {
  std::string piano;
  std::string place;
  std::string visit_title;
  std::string date;  // as it should be read: "25 November 2026"
  std::string prepared_by;
};

enum class Paper { a4, letter };  // 210 × 297 mm (ISO 216), 8½ × 11 in

struct SheetOptions {
  Paper paper = Paper::a4;
  // Lengths in thousandths of an inch instead of tenths of a millimetre; fractions of an inch are
  // not offered because 1⁄64 in (0.4 mm) is coarser than the tolerance of a line.
  bool inches = false;
  bool decimal_comma = false;
  // ISO 8601, the creation date written into the PDF.
  std::string created = "2000-01-01T00:00:00Z";
};

// Writes the sheet and returns its number of pages. The file is written beside `file` and renamed,
// so that a failed write leaves an older sheet as it was. Throws ReportFailure when the file cannot
// be written.
int render_line_sheet_pdf(const Line& line, const SheetHeading& heading,
                          const SheetOptions& options, const std::filesystem::path& file);

// One page of the same sheet as a picture on white; `page` from 1, held to the pages there are;
// `dpi` 36…600. Returns the number of pages of the sheet. Throws ReportFailure as above.
int render_line_sheet_png(const Line& line, const SheetHeading& heading,
                          const SheetOptions& options, const std::filesystem::path& file,
                          int page = 1, double dpi = 150);

}  // namespace batten

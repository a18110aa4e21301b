// Tables of readings, in and out: comma- or semicolon-separated values as spreadsheets write them.
//
// Two forms are read and written.
//   long   a row per reading:  note,reading,value,unit[,uncertainty][,gauge]
//   wide   a row per note, a column per reading:
//          note,string-height [mm],string-height uncertainty [mm],string-height gauge,dip (mm),…
// Columns come in any order; headings forgive letter case, blanks, '-' and '_'. `note`, `reading`
// and `value` must be there in the long form, `note` in the wide one. A heading nobody knows, or
// one given twice, refuses the table. In the wide form a plain `gauge` column counts for every
// reading of its row that has none of its own.
//
// Cells follow RFC 4180 (quoted cells, doubled quotes, line breaks inside quotes) with these
// freedoms:
//   separator   ',', ';' or TAB, found from the first row, or named in a line "sep=;" above it
//   line ends   CR LF, LF or CR; the last may be missing; a row that spans lines by a quoted cell
//               must be quoted without fault, so that a forgotten quote never swallows rows
//   blanks      around an unquoted cell are dropped (RFC 4180 keeps them)
//   quotes      inside an unquoted cell are plain characters: 1 3/4" needs none around it
//   encoding    UTF-8 with or without a byte order mark, UTF-16 with one
//   numbers     '.' or ',' is the decimal mark: no reading reaches a thousand, so that neither can
//               group digits; with ',' as separator the cell is then quoted. 1.2E-05 is read too.
//   units       of the cell itself ("45.2 mm", `1 3/4"`), else of the unit column or the heading's
//               brackets, else the reading's own (catalogue)
//   empty       cells are "no reading"; blank rows and blank unnamed columns are passed over
//
// Nothing is dropped in silence: a row is either taken whole, or blank, or without a value, or bad.
#pragma once

#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// One reading of a table.
struct TableReading {
  Reading reading = Reading::string_height;
  std::optional<Key> note;  // none for readings of the piano or the room
  double value = 0;         // in the reading's unit (catalogue)
  double uncertainty = 0;   // one standard deviation, same unit; 0: not stated
  std::string gauge;        // which instrument, may be empty
  std::string typed;        // the cell as it was written, with the unit of its column or heading
  int line = 0;             // of the file, 1 for the first; where its row begins
  bool operator==(const TableReading&) const = default;
};

// A row nothing was taken from.
struct BadRow {
  int line = 0;     // where the row begins
  std::string row;  // its text, at most 200 bytes, control characters replaced
  Problem reason;   // names the cell; does not repeat the line
};

enum class TableForm { long_form, wide_form };

// Bounds on what is read. Memory taken stays below 2 × the input (6 × for UTF-16) + 320 bytes for
// each reading + 4 MiB for rows and lists; where the gauge of a wide row is kept for each of its
// readings, up to `bytes` more.
struct TableLimits {
  std::size_t bytes = std::size_t{64} << 20;
  std::size_t cell_bytes = 4096;
  std::size_t columns = 200;
  std::size_t readings = 1'000'000;
  std::size_t bad_rows_listed = 1000;
};

struct ReadingTable {
  TableForm form = TableForm::long_form;
  char separator = ',';
  std::vector<TableReading> good;  // in the order of the file
  std::vector<BadRow> bad;         // the first of them, see TableLimits::bad_rows_listed
  int bad_rows = 0;                // all of them
  int rows = 0;                    // below the headings, blank ones not counted
  int rows_without_value = 0;      // a note and perhaps a reading, but nothing read
};

// Reads a table. Every note must lie in the compass and every value in the reading's possible
// range. Whether the good rows are used when there are bad ones is the caller's decision; the row
// is the unit, so that a row mended later never comes in twice by halves. A cell that begins with
// an apostrophe before = + - @, a tab or a line break loses the apostrophe (see write_long).
// Errors, all without line-by-line results: too large, empty, not UTF-8, headings unknown, missing
// or double, a quotation mark never closed, a row longer than columns × cell_bytes, too many
// readings.
Result<ReadingTable> read_table(std::string_view bytes, const Compass& compass,
                                const TableLimits& limits = {});

struct TableStyle {
  char separator = ',';          // ',', ';' or '\t'
  bool decimal_comma = false;    // with ',' as separator numbers are then quoted
  bool byte_order_mark = false;  // some spreadsheets need it to see UTF-8
};

// Writes RFC 4180 with CR LF. Numbers are the shortest decimals that read back to the same double,
// so that read_table gives the same readings to the last bit (but for `typed` and `line`), each in
// its possible range and its unit. Not stated uncertainties are empty cells.
//
// A gauge that a spreadsheet would run as a formula (it begins with = + - @, a tab or a line break;
// OWASP, "CSV Injection") is written behind an apostrophe, the spreadsheets' own sign for text;
// read_table takes it off again. Gauges that already begin with apostrophes before such a character
// get one more, so that nothing is lost. Numbers are left as they are: "-0.5" is no formula.
//
// Precondition: gauges are valid UTF-8 without NUL and shorter than 4 KiB; values are finite.
std::string write_long(std::span<const TableReading> readings, TableStyle style = {});

// A row per note, rising, readings of piano and room first, without a note; a second reading of the
// same kind at a note goes to a further row. Columns in the catalogue's order, only those needed.
// The order of readings of one kind at one note is kept; that between kinds and notes is not.
std::string write_wide(std::span<const TableReading> readings, TableStyle style = {});

}  // namespace batten

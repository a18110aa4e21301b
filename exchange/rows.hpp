// Rows and cells of separated values, one row at a time; the splitting itself is libcsv's.
#pragma once

#include "core/outcome/outcome.hpp"
#include "exchange/reading_table.hpp"

#include <cstddef>
#include <csv.h>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// The separator: from a first line "sep=;" if there is one, else the one of ; TAB , that stands
// most often outside quotes in the first row that is not blank (a tie goes to the earlier of that
// list). Nothing if there is none.
struct SeparatorFound {
  char separator = ',';
  std::size_t skip = 0;  // bytes of the "sep=" line
};
std::optional<SeparatorFound> find_separator(std::string_view text);

enum class RowFault {
  none,
  cell_too_long,  // a cell above the limit
  quotes,         // spans lines, and its quotation marks are not as RFC 4180 has them
};

// One row; the views hold until the next call of RowReader::next.
struct Row {
  int line = 0;                         // where it begins
  int last_line = 0;                    // where it ends
  std::string_view raw;                 // its bytes, line end left out
  std::vector<std::string_view> cells;  // at most the limit's columns
  bool more_cells = false;              // cells beyond them that are not blank
  RowFault fault = RowFault::none;

  bool blank() const;
  // The cell, or an empty one where the row is shorter.
  std::string_view cell(std::size_t column) const {
    return column < cells.size() ? cells[column] : std::string_view();
  }
};

class RowReader {
 public:
  RowReader(std::string_view text, char separator, int first_line, const TableLimits& limits);
  ~RowReader();
  RowReader(const RowReader&) = delete;
  RowReader& operator=(const RowReader&) = delete;

  // The next row that is not a blank line; false at the end.
  // Errors: a quotation mark never closed, a row longer than the limits' columns × cell_bytes.
  Result<bool> next(Row& row);

 private:
  std::string_view next_line();
  void take_cell(const void* bytes, std::size_t length);
  void feed(std::string_view bytes);

  std::string_view text_;
  std::size_t place_ = 0;
  int line_;  // number of the line at place_
  TableLimits limits_;
  csv_parser parser_;
  csv_parser strict_;

  // The row being gathered: cells end to end in one buffer, and where each ends.
  std::string buffer_;
  std::vector<std::size_t> ends_;
  bool more_cells_ = false;
  bool too_long_ = false;
  bool complete_ = false;
};

// ASCII blanks and tabs, no-break spaces and line breaks off both ends.
std::string_view trimmed(std::string_view text);

}  // namespace batten

// The first row of a table: which column holds what.
#pragma once

#include "core/outcome/outcome.hpp"
#include "exchange/cell_value.hpp"
#include "exchange/reading_table.hpp"
#include "exchange/rows.hpp"

#include <optional>
#include <string>
#include <vector>

namespace batten {

// Columns by their place, counted from 0.
struct LongColumns {
  std::size_t note = 0, reading = 0, value = 0;
  std::optional<std::size_t> unit, uncertainty, gauge;
};

// The columns of one reading in the wide form; the unit counts for both numbers unless the
// uncertainty's heading states one of its own.
struct WideColumn {
  Reading reading = Reading::string_height;
  std::size_t value = 0;
  CellUnit unit;
  std::string unit_text;  // as the heading has it, may be empty
  std::optional<std::size_t> uncertainty, gauge;
  CellUnit uncertainty_unit;
};

struct Headings {
  TableForm form = TableForm::long_form;
  std::vector<bool> named;  // false: a blank heading, whose cells must be blank
  LongColumns long_columns;
  std::size_t wide_note = 0;
  std::optional<std::size_t> wide_gauge;
  std::vector<WideColumn> wide;  // in the order of the table
};

// Errors: unknown, missing or double headings, a unit that is not one, an uncertainty or gauge of a
// reading that has no column itself. The Problem names them and those expected.
Result<Headings> parse_headings(const Row& row);

}  // namespace batten

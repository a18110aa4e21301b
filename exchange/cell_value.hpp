// One cell to one number in a reading's own unit.
#pragma once

#include "core/outcome/outcome.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <string_view>

namespace batten {

// The unit a bare number in a cell stands for.
struct CellUnit {
  ReadingUnit kept = ReadingUnit::millimetre;  // the reading's own unit
  bool own = true;                             // a bare number is in it already
  double si = 0;  // else: the stated unit, in SI for lengths and forces, as a factor for the rest
  bool operator==(const CellUnit&) const = default;
};

// `text` as in a unit column or a heading's brackets; empty means the reading's own.
// Error: a unit of another kind, or no unit at all; says what was expected.
Result<CellUnit> parse_unit(std::string_view text, ReadingUnit kept);

// The number of a cell in the reading's own unit. A unit within the cell comes before `unit`.
// Plain decimals in the reading's own unit are read to the nearest double; lengths and
// forces in another unit are converted and then rounded to the nearest 1e-9 mm or gf.
// Errors: not a number, not finite, a wrong unit.
Result<double> parse_cell(std::string_view cell, const CellUnit& unit);

// "a length: mm, cm, m, in" and so on, to end "expected …".
std::string_view expected_unit(ReadingUnit kept);

}  // namespace batten

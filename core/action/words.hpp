// What readings, adjusters and faults are called, and the units they are shown in. Codes are those
// of core/regulation/catalogue where it has them.
#pragma once

#include "core/action/regulate.hpp"

#include <span>
#include <string_view>

namespace batten::action {

// How a row of the influence matrix is shown: value = SI value / unit_si.
struct RowWords {
  Row row;
  std::string_view code, name;
  std::string_view unit;  // "mm", "gf", "mm/s", "%"
  double unit_si;
  int decimals;            // of a reading
  int influence_decimals;  // of a reading's change for one unit of an adjuster
  double Readings::*member;
};
std::span<const RowWords> row_words();  // in the order of Row

// An adjuster's short name and unit (mm, or a tenth of the spring's strength), in the order of
// adjustment_members; `code` as in the catalogue.
struct AdjusterWords {
  std::string_view code, name;
  std::string_view unit;
  double unit_si;
};
std::span<const AdjusterWords> adjuster_words();

struct FaultWords {
  std::string_view code, name;
  std::string_view todo;  // what to look at first
  Fault fault;
  bool may_break;  // a firm blow could break something
};
const FaultWords& words_of(Fault fault);

}  // namespace batten::action

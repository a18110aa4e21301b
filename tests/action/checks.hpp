// One line of the table of outside checks: what was expected, where it says so, what came out.
#pragma once

#include "core/action/prepare.hpp"

#include <string>
#include <vector>

namespace batten::action::checks {

struct Check {
  std::string id;        // "C3", "R1" …
  std::string what;      // what is compared, with note and profile
  std::string source;    // publication, or "trade texts", or "common practice, no source"
  std::string expected;  // with unit
  std::string obtained;  // with unit
  bool holds = false;
  bool fitted = false;  // looked at while dimensions or finger were chosen
};

// Notes that stand for the registers: bass A1, middle C4, treble C7 of each profile that comes with
// the program, ready to play. Choices were made on
// the medium one; the small and the concert one were seen once on the way.
struct Register {
  std::string name;  // "medium C4"
  PreparedNote note;
};
const std::vector<Register>& registers();

// Published timing, forces, speeds (ids C and T).
std::vector<Check> stroke_checks();

}  // namespace batten::action::checks

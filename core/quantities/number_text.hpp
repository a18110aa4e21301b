// The number in front of a unit, as a hand writes it. Part of the readers in text.hpp, whose
// grammar it follows.
#pragma once

#include "core/outcome/outcome.hpp"

#include <string>
#include <string_view>

namespace batten {

// A number and what stands behind it, blanks around both taken away.
struct LeadingNumber {
  double value = 0;
  std::string_view rest;
};

// Reads the longest number at the start of `text`. Decimals are rounded once, correctly; a fraction
// is brought over one denominator in whole numbers and rounded once, so that one over a power of
// two is exact. `expected` ("a length: mm, …") goes into the Problem.
Result<LeadingNumber> take_number(std::string_view text, std::string_view expected);

// `text` without blanks at its ends: space, tab, and the no-break and thin spaces.
std::string_view without_outer_blanks(std::string_view text);

// “text” for a message: cut at 40 characters, control characters and broken UTF-8 shown as "?".
std::string quoted(std::string_view text);

}  // namespace batten

// Any text as a quantity: no crash, finite or refused, and what is printed reads back to half a
// unit of its last decimal, as core/quantities/text.hpp promises. The first byte picks the parser.
#include "core/quantities/text.hpp"
#include "tests/fuzz/require.hpp"

#include <algorithm>
#include <cmath>

namespace {

using namespace batten;

template <class Q>
void check(const Result<Q>& parsed, Q unit) {
  if (!parsed) {
    BATTEN_REQUIRE(!parsed.error().happened.empty());
    return;
  }
  BATTEN_REQUIRE(std::isfinite(parsed->in(unit)));
}

void check_length(const Result<Length>& parsed, bool decimal_comma) {
  check(parsed, millimetre);
  // Numbers longer than 40 characters are refused, as documented.
  if (!parsed || std::abs(parsed->in(millimetre)) > 1e9) return;
  // One or two decimals: three behind a comma read as thousands are refused, as documented.
  const auto again = parse_length(print_millimetres(*parsed, {2, decimal_comma, decimal_comma}));
  BATTEN_REQUIRE(again);
  const double error = std::abs(again->in(millimetre)-parsed->in(millimetre));
  BATTEN_REQUIRE(error <= 0.005 + 1e-12 * std::abs(parsed->in(millimetre)));

  const auto fraction = parse_length(print_inch_fraction(*parsed, 64));
  BATTEN_REQUIRE(fraction);
  BATTEN_REQUIRE(std::abs(fraction->in(inch)-parsed->in(inch)) <=
                 1.0 / 128 + 1e-12 * std::abs(parsed->in(inch)));
}

void check_turns(const Result<Turns>& parsed) {
  check(parsed, turn);
  if (!parsed || std::abs(parsed->in(turn)) > 1e6) return;
  const auto again = parse_turns(print_turns(*parsed, 64));
  BATTEN_REQUIRE(again);
  // The amount is printed without its direction.
  BATTEN_REQUIRE(std::abs(again->in(turn)-std::abs(parsed->in(turn))) <= 1.0 / 128 + 1e-9);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);
  switch (data[0] % 10) {
    case 0:
      check_length(parse_length(text), false);
      break;
    case 1:
      check_length(parse_length(text, inch), true);
      break;
    case 2:
      check(parse_mass(text), gram);
      break;
    case 3:
      check(parse_force(text), gram_force);
      break;
    case 4:
      check(parse_torque(text), newton_millimetre);
      break;
    case 5:
      check(parse_angle(text), degree);
      break;
    case 6:
      check(parse_duration(text), second);
      break;
    case 7:
      check_turns(parse_turns(text));
      break;
    case 8:
      check_length(parse_length(text, metre), true);
      break;
    default:
      if (const auto number = parse_number(text)) BATTEN_REQUIRE(std::isfinite(*number));
  }
  return 0;
}

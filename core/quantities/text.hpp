// Quantities as a technician writes them, read and printed. The same in every locale.
//
// Accepted by every reader, blanks around and between parts allowed:
//   number      45   45.2   45,2   -0.5   −0.5   +0.12   .4   1e-3 is refused (no hand writes it)
//   fraction    3/64   1 3/4   1-3/4   1¾   (any denominator 1…1000; the vulgar-fraction characters;
//               behind a whole number it must be below one)
//   unit        directly behind or after blanks; none means the `assumed` unit. As written below;
//               letter case is forgiven where only one unit fits
// Comma: a decimal mark when it is the only mark and there are not exactly three digits behind it
// ("45,2", "0,400" because a leading zero cannot group thousands); "1,234" alone is refused as
// ambiguous, "1,234.5" and "1.234,5" are refused too (no reading here has thousands). "45." is
// refused: a digit was lost behind the mark.
// Exactness: a decimal is rounded once, correctly; a fraction is brought over one denominator in
// whole numbers first, so that 1 3/64 is exact. The unit is then multiplied in:
// parse_length("45.2 mm") == 45.2 * millimetre.
// Errors: empty text, no number, more than one number, zero denominator, a number longer than 40
// characters, unknown unit, a unit of another kind; the Problem says what was read and what was
// expected ("“48 g” is a mass; expected a length: mm, cm, m, in or \".").
#pragma once

#include <string>
#include <string_view>

#include "core/outcome/outcome.hpp"
#include "core/quantities/quantity.hpp"

namespace batten {

// Units accepted:
//   length    mm, cm, m, in, inch, inches, " (also ″, ” and '')
//   mass      g, kg, oz
//   force     N, mN, gf, g (a touch weight is read in grams and means gram-force), kgf
//   torque    N·m, Nm, N m, N·mm, Nmm, N mm, mN·m, mNm
//   angle     deg, °, rad, mrad
//   duration  s, ms, min, h
//   turns     turn, turns, rev, or an angle (90° is a quarter turn)
Result<Length> parse_length(std::string_view text, Length assumed = millimetre);
Result<Mass> parse_mass(std::string_view text, Mass assumed = gram);
Result<Force> parse_force(std::string_view text, Force assumed = gram_force);
Result<Torque> parse_torque(std::string_view text, Torque assumed = newton_millimetre);
Result<Angle> parse_angle(std::string_view text, Angle assumed = degree);
Result<Duration> parse_duration(std::string_view text, Duration assumed = minute);
Result<Turns> parse_turns(std::string_view text, Turns assumed = turn);

// A bare number in the same grammar, no unit allowed; for grades, fractions and percentages.
Result<double> parse_number(std::string_view text);

// How to write a number: decimals 0…12 (others are brought into that span), and the character before
// them.
struct NumberStyle {
  int decimals = 2;
  bool decimal_comma = false;
  bool plus = false;  // write "+" before values that do not print as zero
};

// "45.20 mm": value, no-break thin space (U+202F), unit; the minus sign is U+2212. Reading the text
// back gives the value to within half a unit of the last decimal, but for three decimals behind a
// comma, which the readers refuse from 1 up. Never prints "−0.00". NaN and infinities print as "–"
// (no reading), without a unit.
std::string print_millimetres(Length value, NumberStyle style = {});
std::string print_inches(Length value, NumberStyle style = {.decimals = 3});
std::string print_gram_force(Force value, NumberStyle style = {.decimals = 0});
std::string print_grams(Mass value, NumberStyle style = {.decimals = 1});
std::string print_newtons(Force value, NumberStyle style = {});
std::string print_newton_millimetres(Torque value, NumberStyle style = {});
std::string print_degrees(Angle value, NumberStyle style = {.decimals = 1});
std::string print_milliseconds(Duration value, NumberStyle style = {.decimals = 1});
std::string print_number(double value, NumberStyle style = {});

// Inch fraction to the nearest 1/denominator (a power of two, 2…128), lowest terms: 1¾″, 3⁄64″,
// −⅛″, 0″. Halves round away from zero, a part in 10⁹ below the half included. Exact when the value
// is a multiple of 1/denominator. Beyond 10¹⁵ parts it prints decimals.
std::string print_inch_fraction(Length value, int denominator = 64);

// "½", "3⁄64", "1¾", "1 3⁄64" (U+202F between), "0": lowest terms; used for turns of a screw and inch
// fractions alike. The denominator is positive.
std::string print_fraction(long numerator, long denominator);

// "⅛ turn", "3⁄64 turn", "1¼ turns": the amount only, never its direction; `value` is rounded to
// the nearest 1/denominator (1…256, any whole number).
std::string print_turns(Turns value, int denominator = 64);

// The nearest multiple of 1/denominator (1…256) turn; halves away from zero, as in print_turns.
Turns round_turns(Turns value, int denominator);

}  // namespace batten

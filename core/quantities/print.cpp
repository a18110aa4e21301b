#include "core/quantities/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <numeric>

namespace batten {
namespace {

constexpr std::string_view minus = "\u2212";
constexpr std::string_view thin_space = "\u202f";
constexpr std::string_view fraction_slash = "\u2044";
constexpr std::string_view no_reading = "–";

std::string with_unit(double value, NumberStyle style, std::string_view behind) {
  std::string text = print_number(value, style);
  if (std::isfinite(value)) text += behind;
  return text;
}

struct VulgarFraction {
  std::uint64_t numerator, denominator;
  std::string_view character;
};
// Those the usual text faces hold; sevenths, ninths and tenths often lack a drawing.
constexpr std::array<VulgarFraction, 15> vulgar_fractions{{
    {1, 2, "½"},
    {1, 3, "⅓"},
    {2, 3, "⅔"},
    {1, 4, "¼"},
    {3, 4, "¾"},
    {1, 5, "⅕"},
    {2, 5, "⅖"},
    {3, 5, "⅗"},
    {4, 5, "⅘"},
    {1, 6, "⅙"},
    {5, 6, "⅚"},
    {1, 8, "⅛"},
    {3, 8, "⅜"},
    {5, 8, "⅝"},
    {7, 8, "⅞"},
}};

// Beyond this a count of parts is no longer exact in a double, and no screw or rule is that long.
constexpr double most_parts = 1e15;

// Nearest whole number of parts, halves away from zero. A half that unit conversion has left a few
// last places short still counts as one.
double nearest_part(double parts) {
  constexpr double slack = 1e-9;
  return std::copysign(std::floor(std::fabs(parts) + 0.5 + slack), parts);
}

}  // namespace

std::string print_number(double value, NumberStyle style) {
  if (!std::isfinite(value)) return std::string(no_reading);
  const int decimals = std::clamp(style.decimals, 0, 12);
  std::string digits = fmt::format("{:.{}f}", std::fabs(value), decimals);
  const bool zero = digits.find_first_not_of("0.") == std::string::npos;
  if (style.decimal_comma) std::replace(digits.begin(), digits.end(), '.', ',');
  if (zero) return digits;
  if (value < 0) return std::string(minus) + digits;
  return style.plus ? "+" + digits : digits;
}

std::string print_millimetres(Length value, NumberStyle style) {
  return with_unit(value.in(millimetre), style, "\u202fmm");
}
std::string print_inches(Length value, NumberStyle style) {
  return with_unit(value.in(inch), style, "\u202fin");
}
std::string print_gram_force(Force value, NumberStyle style) {
  return with_unit(value.in(gram_force), style, "\u202fgf");
}
std::string print_grams(Mass value, NumberStyle style) {
  return with_unit(value.in(gram), style, "\u202fg");
}
std::string print_newtons(Force value, NumberStyle style) {
  return with_unit(value.in(newton), style, "\u202fN");
}
std::string print_newton_millimetres(Torque value, NumberStyle style) {
  return with_unit(value.in(newton_millimetre), style, "\u202fN·mm");
}
std::string print_degrees(Angle value, NumberStyle style) {
  return with_unit(value.in(degree), style, "°");
}
std::string print_milliseconds(Duration value, NumberStyle style) {
  return with_unit(value.in(millisecond), style, "\u202fms");
}

std::string print_fraction(long numerator, long denominator) {
  assert(denominator > 0);
  const std::string sign(numerator < 0 ? minus : "");
  // Unsigned, because the most negative long has no positive counterpart.
  const std::uint64_t top = numerator < 0 ? 0 - static_cast<std::uint64_t>(numerator)
                                          : static_cast<std::uint64_t>(numerator);
  const auto bottom = static_cast<std::uint64_t>(denominator);
  const std::uint64_t whole = top / bottom;
  const std::uint64_t common = std::gcd(top % bottom, bottom);
  const std::uint64_t part = top % bottom / common;
  const std::uint64_t parts = bottom / common;
  if (part == 0) return sign + fmt::format("{}", whole);
  const std::string before = whole == 0 ? "" : fmt::format("{}", whole);
  for (const VulgarFraction& vulgar : vulgar_fractions) {
    if (vulgar.numerator == part && vulgar.denominator == parts) {
      return sign + before + std::string(vulgar.character);
    }
  }
  return fmt::format("{}{}{}{}{}{}", sign, before, whole == 0 ? "" : thin_space, part,
                     fraction_slash, parts);
}

std::string print_inch_fraction(Length value, int denominator) {
  assert(denominator >= 2 && denominator <= 128 && (denominator & (denominator - 1)) == 0);
  if (!std::isfinite(value.si())) return std::string(no_reading);
  const double parts = value.in(inch)*denominator;
  if (std::fabs(parts) > most_parts) return print_inches(value);
  return print_fraction(static_cast<long>(nearest_part(parts)), denominator) + "″";
}

std::string print_turns(Turns value, int denominator) {
  assert(denominator >= 1 && denominator <= 256);
  if (!std::isfinite(value.si())) return std::string(no_reading);
  const double parts = std::fabs(value.in(turn)) * denominator;
  if (parts > most_parts) return with_unit(std::fabs(value.in(turn)), {}, "\u202fturns");
  const auto count = static_cast<long>(nearest_part(parts));
  const bool one = count > 0 && count <= denominator;
  return print_fraction(count, denominator) + (one ? " turn" : " turns");
}

Turns round_turns(Turns value, int denominator) {
  assert(denominator >= 1 && denominator <= 256);
  const double parts = value.in(turn)*denominator;
  if (!(std::fabs(parts) <= most_parts)) return value;
  return nearest_part(parts) / denominator * turn;
}

}  // namespace batten

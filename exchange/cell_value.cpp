#include "exchange/cell_value.hpp"

#include "core/quantities/text.hpp"
#include "exchange/encoding.hpp"
#include "exchange/rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>

namespace batten {
namespace {

using namespace std::string_view_literals;

// Longest cell worth reading as anything but a plain decimal; longer ones are no measured value.
constexpr std::size_t longest_written_value = 60;

bool equal_ignoring_case(std::string_view a, std::string_view b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) {
    return (x >= 'A' && x <= 'Z' ? static_cast<char>(x - 'A' + 'a') : x) == y;
  });
}

// Names of a reading's own unit, lower case, that need no conversion.
bool is_own_unit(std::string_view text, ReadingUnit kept) {
  const auto is = [&](std::string_view name) { return equal_ignoring_case(text, name); };
  switch (kept) {
    case ReadingUnit::millimetre:
      return is("mm");
    case ReadingUnit::gram_force:
      return is("gf") || is("g");
    case ReadingUnit::fraction:
      return is("fraction");
    case ReadingUnit::grade:
      return is("grade");
    case ReadingUnit::percent:
      return is("%") || is("%rh") || is("% rh") || is("percent");
    case ReadingUnit::celsius:
      return is("°c") || is("c") || is("ºc") || is("° c") || is("deg c");
  }
  return false;
}

// Plain decimals, a comma as decimal mark, an exponent: what a spreadsheet writes.
// Nothing if it is something else; infinite if it is too large.
std::optional<double> plain_decimal(std::string_view cell) {
  if (cell.starts_with('+')) {
    cell.remove_prefix(1);
    if (cell.starts_with('-')) return std::nullopt;
  }
  if (cell.empty()) return std::nullopt;
  const bool number_like = std::all_of(cell.begin(), cell.end(), [](char c) {
    return (c >= '0' && c <= '9') || c == '.' || c == ',' || c == '-' || c == '+' || c == 'e' ||
           c == 'E';
  });
  if (!number_like) return std::nullopt;
  std::string with_point;
  if (const auto comma = cell.find(','); comma != std::string_view::npos) {
    if (cell.find('.') != std::string_view::npos) return std::nullopt;
    with_point = cell;
    with_point[comma] = '.';
    cell = with_point;
  }
  double value = 0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (end != cell.data() + cell.size()) return std::nullopt;
  if (error == std::errc::result_out_of_range) return HUGE_VAL;
  if (error != std::errc()) return std::nullopt;
  return value;
}

// No-break and thin blanks to plain ones, and one comma between digits to a point: for the parsers
// of core/quantities, which must refuse "1,234" where this table cannot mean a thousand.
std::string prepared(std::string_view cell) {
  std::string text;
  for (std::size_t i = 0; i < cell.size(); ++i) {
    if (cell.substr(i).starts_with("\u00A0")) {
      text += ' ';
      i += 1;
    } else if (cell.substr(i).starts_with("\u202F") || cell.substr(i).starts_with("\u2009")) {
      text += ' ';
      i += 2;
    } else {
      text += cell[i];
    }
  }
  const auto comma = text.find(',');
  if (comma != std::string::npos && text.find('.') == std::string::npos &&
      text.find(',', comma + 1) == std::string::npos)
    text[comma] = '.';
  return text;
}

// Off the last bits that a conversion leaves, so that 3/8 in are 9.525 mm and
// not 9.524999999999999.
double without_conversion_noise(double value) {
  constexpr double grid = 1e9;  // a picometre, in mm; far below what any gauge sees
  const double rounded = std::round(value * grid) / grid;
  return std::isfinite(rounded) ? rounded : value;
}

Result<double> number_with_own_suffix(const std::string& text, const CellUnit& unit) {
  std::string_view number = text;
  double factor = unit.own ? 1 : unit.si;
  // "50 %" of a fraction is 0.5; of a percentage 50.
  for (std::string_view suffix : {"% RH"sv, "%RH"sv, "%"sv, "°C"sv, "ºC"sv, "grade"sv}) {
    if (!number.ends_with(suffix)) continue;
    if (unit.kept == ReadingUnit::fraction && suffix == "%")
      factor = 0.01;
    else if (is_own_unit(suffix, unit.kept))
      factor = 1;
    else
      continue;
    number.remove_suffix(suffix.size());
    break;
  }
  number = trimmed(number);
  if (const auto plain = plain_decimal(number)) return *plain * factor;
  return parse_number(number).map([&](double value) { return value * factor; });
}

}  // namespace

std::string_view expected_unit(ReadingUnit kept) {
  switch (kept) {
    case ReadingUnit::millimetre:
      return "a length: mm, cm, m or in";
    case ReadingUnit::gram_force:
      return "a force: gf (or g), N or mN";
    case ReadingUnit::fraction:
      return "a plain fraction, such as 0.5 or 50 %";
    case ReadingUnit::grade:
      return "a grade, a whole number without a unit";
    case ReadingUnit::percent:
      return "a percentage: %";
    case ReadingUnit::celsius:
      return "a temperature: °C";
  }
  return "";
}

Result<CellUnit> parse_unit(std::string_view text, ReadingUnit kept) {
  text = trimmed(text);
  CellUnit unit{.kept = kept};
  if (text.empty() || is_own_unit(text, kept)) return unit;
  unit.own = false;
  // One of the unit, read by the parser that knows all names; a digit would make it 1 3 mm.
  const bool bare_name =
      text.size() <= longest_written_value && std::none_of(text.begin(), text.end(), [](char c) {
        return (c >= '0' && c <= '9') || c == '.' || c == ',' || c == '/' ||
               static_cast<unsigned char>(c) < 0x20;
      });
  if (bare_name) {
    const std::string one = "1 " + prepared(text);
    if (kept == ReadingUnit::millimetre) {
      if (const auto length = parse_length(one)) {
        unit.si = length->si();
        return unit;
      }
    } else if (kept == ReadingUnit::gram_force) {
      if (const auto force = parse_force(one)) {
        unit.si = force->si();
        return unit;
      }
    } else if (kept == ReadingUnit::fraction && text == "%") {
      unit.si = 0.01;
      return unit;
    }
  }
  return problem(
      fmt::format("“{}” is not a unit for this; expected {}.", shown(text), expected_unit(kept)));
}

Result<double> parse_cell(std::string_view cell, const CellUnit& unit) {
  cell = trimmed(cell);
  const auto finite = [&](double value) -> Result<double> {
    if (std::isfinite(value)) return value;
    return problem(fmt::format("“{}” is too large a number.", shown(cell)));
  };
  const auto converted = [&](double value) { return finite(without_conversion_noise(value)); };
  if (unit.own)
    if (const auto plain = plain_decimal(cell)) return finite(*plain);

  const bool control = std::any_of(cell.begin(), cell.end(),
                                   [](char c) { return static_cast<unsigned char>(c) < 0x20; });
  if (control || cell.size() > longest_written_value)
    return problem(fmt::format("“{}” is not a number.", shown(cell)));
  const std::string text = prepared(cell);
  switch (unit.kept) {
    case ReadingUnit::millimetre: {
      const Length assumed = unit.own ? millimetre : Length::from_si(unit.si);
      if (const auto plain = plain_decimal(text))
        return converted((*plain * assumed).in(millimetre));
      const auto length = parse_length(text, assumed);
      if (!length) return tl::unexpected(length.error());
      return converted(length->in(millimetre));
    }
    case ReadingUnit::gram_force: {
      const Force assumed = unit.own ? gram_force : Force::from_si(unit.si);
      if (const auto plain = plain_decimal(text))
        return converted((*plain * assumed).in(gram_force));
      const auto force = parse_force(text, assumed);
      if (!force) return tl::unexpected(force.error());
      return converted(force->in(gram_force));
    }
    case ReadingUnit::fraction:
    case ReadingUnit::grade:
    case ReadingUnit::percent:
    case ReadingUnit::celsius: {
      const auto number = number_with_own_suffix(text, unit);
      if (number) return finite(*number);
      return problem(fmt::format("“{}” is not {}.", shown(cell), expected_unit(unit.kept)));
    }
  }
  return problem("unknown unit");
}

}  // namespace batten

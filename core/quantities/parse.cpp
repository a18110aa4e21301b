#include "core/quantities/number_text.hpp"
#include "core/quantities/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <numbers>

namespace batten {
namespace {

enum class Kind : std::uint8_t { length, mass, force, torque, angle, duration, turns };

struct KindWords {
  std::string_view is;        // "“48 g” is …"
  std::string_view expected;  // "expected …"
};

constexpr KindWords words_of(Kind kind) {
  switch (kind) {
    case Kind::length:
      return {"a length", "a length: mm, cm, m, in or \""};
    case Kind::mass:
      return {"a mass", "a mass: g, kg or oz"};
    case Kind::force:
      return {"a force", "a force: gf, g, kgf, N or mN"};
    case Kind::torque:
      return {"a torque", "a torque: N·mm, N·m or mN·m"};
    case Kind::angle:
      return {"an angle", "an angle: °, deg, rad or mrad"};
    case Kind::duration:
      return {"a time", "a time: ms, s, min or h"};
    case Kind::turns:
      return {"a part of a turn", "turns: turn, turns, rev, or an angle in ° or deg"};
  }
  return {};
}

// The value in SI is value × times / by. Two factors, so that 90° is exactly a quarter turn.
struct Unit {
  Kind kind;
  std::string_view symbol;
  double times;
  double by = 1;
};

constexpr double radians_per_turn = 2 * std::numbers::pi;

// For a kind named twice (g, °) the more usual meaning stands first.
constexpr std::array units{
    Unit{Kind::length, "mm", millimetre.si()},
    Unit{Kind::length, "cm", 1e-2},
    Unit{Kind::length, "m", 1},
    Unit{Kind::length, "in", inch.si()},
    Unit{Kind::length, "inch", inch.si()},
    Unit{Kind::length, "inches", inch.si()},
    Unit{Kind::length, "\"", inch.si()},
    Unit{Kind::length, "″", inch.si()},
    Unit{Kind::length, "''", inch.si()},
    Unit{Kind::length, "”", inch.si()},  // what a phone makes of "
    Unit{Kind::mass, "g", gram.si()},
    Unit{Kind::mass, "kg", 1},
    Unit{Kind::mass, "oz", ounce.si()},
    Unit{Kind::force, "gf", gram_force.si()},
    Unit{Kind::force, "g", gram_force.si()},
    Unit{Kind::force, "kgf", 9.80665},
    Unit{Kind::force, "N", 1},
    Unit{Kind::force, "mN", 1e-3},
    Unit{Kind::torque, "N·m", 1},
    Unit{Kind::torque, "N⋅m", 1},
    Unit{Kind::torque, "Nm", 1},
    Unit{Kind::torque, "N m", 1},
    Unit{Kind::torque, "N·mm", newton_millimetre.si()},
    Unit{Kind::torque, "N⋅mm", newton_millimetre.si()},
    Unit{Kind::torque, "Nmm", newton_millimetre.si()},
    Unit{Kind::torque, "N mm", newton_millimetre.si()},
    Unit{Kind::torque, "mN·m", 1e-3},
    Unit{Kind::torque, "mN⋅m", 1e-3},
    Unit{Kind::torque, "mNm", 1e-3},
    Unit{Kind::torque, "mN m", 1e-3},
    Unit{Kind::angle, "°", degree.si()},
    Unit{Kind::angle, "deg", degree.si()},
    Unit{Kind::angle, "rad", 1},
    Unit{Kind::angle, "mrad", 1e-3},
    Unit{Kind::duration, "s", 1},
    Unit{Kind::duration, "ms", millisecond.si()},
    Unit{Kind::duration, "min", minute.si()},
    Unit{Kind::duration, "h", 3600},
    Unit{Kind::turns, "turn", 1},
    Unit{Kind::turns, "turns", 1},
    Unit{Kind::turns, "rev", 1},
    Unit{Kind::turns, "°", 1, 360},
    Unit{Kind::turns, "deg", 1, 360},
    Unit{Kind::turns, "rad", 1, radians_per_turn},
    Unit{Kind::turns, "mrad", 1e-3, radians_per_turn},
};

bool same_but_for_case(std::string_view a, std::string_view b) {
  const auto lower = [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return lower(x) == lower(y); });
}

// As written first; then whatever the case, because a phone writes "Mm" after a full stop.
template <class Fits>
const Unit* find_unit(std::string_view symbol, Fits fits) {
  for (const Unit& unit : units) {
    if (fits(unit) && unit.symbol == symbol) return &unit;
  }
  for (const Unit& unit : units) {
    if (fits(unit) && same_but_for_case(unit.symbol, symbol)) return &unit;
  }
  return nullptr;
}

template <class Q>
Result<Q> parse(std::string_view text, Kind kind, Q assumed) {
  const std::string_view expected = words_of(kind).expected;
  const Result<LeadingNumber> number = take_number(text, expected);
  if (!number) return tl::unexpected(number.error());
  if (number->rest.empty()) return number->value * assumed;
  if (const Unit* unit =
          find_unit(number->rest, [kind](const Unit& u) { return u.kind == kind; })) {
    return Q::from_si(number->value * unit->times / unit->by);
  }
  const std::string read = quoted(without_outer_blanks(text));
  if (const Unit* other = find_unit(number->rest, [](const Unit&) { return true; })) {
    return problem(fmt::format("{} is {}; expected {}.", read, words_of(other->kind).is, expected),
                   "Write it again in one of these units.");
  }
  return problem(fmt::format("{} has no unit known here, {}; expected {}.", read,
                             quoted(number->rest), expected),
                 "Write it again in one of these units.");
}

}  // namespace

Result<Length> parse_length(std::string_view text, Length assumed) {
  return parse(text, Kind::length, assumed);
}
Result<Mass> parse_mass(std::string_view text, Mass assumed) {
  return parse(text, Kind::mass, assumed);
}
Result<Force> parse_force(std::string_view text, Force assumed) {
  return parse(text, Kind::force, assumed);
}
Result<Torque> parse_torque(std::string_view text, Torque assumed) {
  return parse(text, Kind::torque, assumed);
}
Result<Angle> parse_angle(std::string_view text, Angle assumed) {
  return parse(text, Kind::angle, assumed);
}
Result<Duration> parse_duration(std::string_view text, Duration assumed) {
  return parse(text, Kind::duration, assumed);
}
Result<Turns> parse_turns(std::string_view text, Turns assumed) {
  return parse(text, Kind::turns, assumed);
}

Result<double> parse_number(std::string_view text) {
  constexpr std::string_view expected = "a bare number";
  const Result<LeadingNumber> number = take_number(text, expected);
  if (!number) return tl::unexpected(number.error());
  if (!number->rest.empty()) {
    return problem(fmt::format("{} has {} behind the number; expected {}.",
                               quoted(without_outer_blanks(text)), quoted(number->rest), expected),
                   "Write the number alone.");
  }
  return number->value;
}

}  // namespace batten

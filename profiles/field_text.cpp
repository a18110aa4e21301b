#include "profiles/field_text.hpp"

#include "core/quantities/number_text.hpp"
#include "core/quantities/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace batten::profile_text {

namespace {

// In SI, of a quantity or its problem.
template <class Quantity>
Result<double> si_of(const Result<Quantity>& read) {
  if (!read) return tl::unexpected(read.error());
  return read->si();
}

// Edits from one word to the other, a swap of neighbours counting as one.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) {
    for (std::size_t j = 0; j <= b.size(); ++j) {
      if (i == 0 || j == 0) {
        d[i][j] = i + j;
        continue;
      }
      d[i][j] = std::min(
          {d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + (a[i - 1] == b[j - 1] ? 0U : 1U)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
    }
  }
  return d[a.size()][b.size()];
}

}  // namespace

std::string print_value(double si, std::string_view unit, double unit_si) {
  // The shortest text that gives the number back; 0.257 m is no 257.00000000000006 mm.
  std::string number;
  for (int digits = 15; digits <= 17; ++digits) {
    number = fmt::format("{:.{}g}", si / unit_si, digits);
    double back = 0;
    std::from_chars(number.data(), number.data() + number.size(), back);
    if (back * unit_si == si) break;
  }
  return unit.empty() ? number : number + " " + std::string(unit);
}

Result<double> parse_value(std::string_view text, std::string_view unit, double unit_si) {
  const std::string_view inner = without_outer_blanks(text);
  // Numbers of a program first: 1e12 is none that a hand writes, but a stiffness may be.
  double number = 0;
  const auto [end, error] = std::from_chars(inner.data(), inner.data() + inner.size(), number);
  if (error == std::errc()) {
    const std::string_view rest =
        without_outer_blanks(inner.substr(static_cast<std::size_t>(end - inner.data())));
    if (rest.empty() || rest == unit) return number * unit_si;
  }
  if (unit == "mm") return si_of(parse_length(inner));
  if (unit == "g") return si_of(parse_mass(inner));
  if (unit == "deg") return si_of(parse_angle(inner));
  if (unit == "N") return si_of(parse_force(inner, newton));
  if (unit == "gf") return si_of(parse_force(inner));
  if (unit == "Nmm") return si_of(parse_torque(inner));
  return problem(
      quoted(inner) + " is not a number" +
          (unit.empty() ? std::string(" without a unit.") : " in " + std::string(unit) + "."),
      "Write such as \"" + (unit.empty() ? std::string("1.5") : "1.5 " + std::string(unit)) +
          "\".");
}

std::string_view nearest(std::string_view typed, const std::vector<std::string_view>& known) {
  constexpr std::size_t most = 3;
  std::string_view best;
  std::size_t least = std::min(most, std::max<std::size_t>(1, typed.size() / 3)) + 1;
  for (std::string_view k : known) {
    const std::size_t d = distance(typed, k);
    if (d >= least) continue;
    least = d;
    best = k;
  }
  return best;
}

}  // namespace batten::profile_text

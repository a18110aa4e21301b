#include "reports/wording.hpp"

#include "core/keyboard/key.hpp"
#include "core/quantities/text.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <numeric>

namespace batten::paper {

std::string Units::number(double value, int decimals) const {
  if (!std::isfinite(value)) return "–";
  return print_number(value, {.decimals = decimals, .decimal_comma = decimal_comma});
}

std::string Units::gauge(Length length) const { return number(value(length), inches ? 3 : 1); }

std::string Units::fine(Length length) const { return number(value(length), inches ? 3 : 2); }

std::string Units::gauge_with_unit(Length length) const {
  return gauge(length) + "\u202f" + symbol();
}

std::string Units::fine_with_unit(Length length) const {
  return fine(length) + "\u202f" + symbol();
}

std::string note_label(Key key) {
  std::string name = note_name(key);
  if (const auto hash = name.find('#'); hash != std::string::npos) name.replace(hash, 1, "♯");
  return name;
}

std::string note_list(const std::vector<Key>& rising) {
  std::string text;
  for (std::size_t i = 0; i < rising.size();) {
    std::size_t last = i;
    while (last + 1 < rising.size() && rising[last + 1].number == rising[last].number + 1) ++last;
    if (last - i < 2) last = i;
    if (!text.empty()) text += ", ";
    text += note_label(rising[i]);
    if (last > i) text += "–" + note_label(rising[last]);
    i = last + 1;
  }
  return text;
}

std::string turn_fraction(Turns turns, int denominator) {
  const long parts = std::labs(std::lround(turns.in(turn)*denominator));
  const long whole = parts / denominator;
  const long rest = parts % denominator;
  if (rest == 0) return std::to_string(whole);
  const long common = std::gcd(rest, static_cast<long>(denominator));
  const std::string fraction = fmt::format("{}/{}", rest / common, denominator / common);
  return whole == 0 ? fraction : fmt::format("{} {}", whole, fraction);
}

std::string counted(std::size_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

Length height_to_read(const Line& line, const NoteLine& note) {
  if (!std::isfinite(note.target_sd.si())) return note.target_sd;
  if (!line.transfer.needed) return note.target;
  const double along =
      static_cast<double>(line.compass.position(note.key)) / (line.compass.count() - 1);
  return note.target -
         (line.transfer.offset_at_lowest * (1 - along) + line.transfer.offset_at_highest * along);
}

std::optional<Length> expected_evenness(const Line& line, int section) {
  if (!advises(line)) return std::nullopt;
  const double relative_spread =
      line.settings.crown_per_turn_sd.si() / line.settings.crown_per_turn.si();
  double sum = 0;
  int count = 0;
  for (const NoteLine& note : line.notes) {
    if ((section >= 0 && note.section != section) || !note.deviation) continue;
    double left = note.deviation->si();
    double missed = 0;
    if (note.verdict == Verdict::move) {
      const double travel = (note.turns.si() * line.settings.crown_per_turn.si());
      left += travel;
      missed = travel * relative_spread;
    }
    sum += left * left + missed * missed;
    ++count;
  }
  if (count == 0) return std::nullopt;
  return Length::from_si(std::sqrt(sum / count));
}

}  // namespace batten::paper

#include "core/regulation/handover/said.hpp"

#include "core/quantities/text.hpp"
#include "core/regulation/planning/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace batten {

namespace {

constexpr const char* thin = "\u202f";
constexpr double mm_per_inch = 25.4;

ReadingUnit unit_of(Reading reading) { return kind_of(reading).unit; }

}  // namespace

std::string Said::with_mark(std::string text) const {
  if (style_.language == Language::german) std::ranges::replace(text, '.', ',');
  return text;
}

std::string Said::bare(Reading reading, double value) const {
  if (!std::isfinite(value)) return "–";
  return with_mark(bare_value(reading, value, style_.inches));
}

std::string Said::unit(Reading reading) const {
  switch (unit_of(reading)) {
    case ReadingUnit::millimetre:
      return style_.inches ? "in" : "mm";
    case ReadingUnit::gram_force:
      return "gf";
    case ReadingUnit::percent:
      return words("page.unit.humidity");
    case ReadingUnit::celsius:
      return "°C";
    case ReadingUnit::fraction:
      return words("page.unit.of_blow");
    case ReadingUnit::grade:
      return "";
  }
  return "";
}

std::string Said::value(Reading reading, double value) const {
  if (!std::isfinite(value)) return "–";
  if (unit_of(reading) == ReadingUnit::grade)
    return words("page.unit.grade", {{"value", bare(reading, value)}});
  const bool room =
      unit_of(reading) == ReadingUnit::percent || unit_of(reading) == ReadingUnit::celsius;
  const bool whole = room && std::abs(value - std::round(value)) < 0.05;
  return (room ? number(value, whole ? 0 : 1) : bare(reading, value)) + thin + unit(reading);
}

std::string Said::spread(Reading reading, double value) const {
  if (!std::isfinite(value)) return "–";
  const double size = std::abs(value);
  if (unit_of(reading) == ReadingUnit::grade)
    return words("page.unit.of_grade", {{"value", number(size, 1)}});
  if (unit_of(reading) == ReadingUnit::millimetre && style_.inches)
    return number(size / mm_per_inch, 3) + thin + "in";
  return number(size, unit_of(reading) == ReadingUnit::gram_force ? 1 : 2) + thin + unit(reading);
}

std::string Said::amount(Adjuster adjuster, double amount) const {
  const double size = std::abs(amount);
  switch (kind_of(adjuster).unit) {
    case MoveUnit::turns: {
      const long parts = std::lround(size * 64);
      return words(parts > 0 && parts <= 64 ? "page.unit.turn" : "page.unit.turns",
                   {{"value", print_fraction(parts, 64)}});
    }
    case MoveUnit::millimetres:
      return style_.inches ? number(size / mm_per_inch, 3) + thin + "in"
                           : number(size, 2) + thin + "mm";
    case MoveUnit::bend_steps: {
      const bool whole = std::abs(size - std::round(size)) < 0.05;
      return words(size < 1.05 ? "page.unit.step" : "page.unit.steps",
                   {{"value", number(size, whole ? 0 : 1)}});
    }
  }
  return {};
}

std::string Said::minutes(double minutes) const {
  const long all = std::lround(minutes);
  if (all < 60) return fmt::format("{}{}min", all, thin);
  if (all % 60 == 0) return fmt::format("{}{}h", all / 60, thin);
  return fmt::format("{}{}h {}{}min", all / 60, thin, all % 60, thin);
}

std::string Said::note(Key key) {
  std::string name = note_name(key);
  if (const auto hash = name.find('#'); hash != std::string::npos) name.replace(hash, 1, "♯");
  return name;
}

std::string Said::notes(const std::vector<Key>& rising) {
  std::string text;
  for (std::size_t i = 0; i < rising.size();) {
    std::size_t last = i;
    while (last + 1 < rising.size() && rising[last + 1].number == rising[last].number + 1) ++last;
    if (last - i < 2) last = i;
    if (!text.empty()) text += ", ";
    text += note(rising[i]);
    if (last > i) text += "–" + note(rising[last]);
    i = last + 1;
  }
  return text;
}

}  // namespace batten

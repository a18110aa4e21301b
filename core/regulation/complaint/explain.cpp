#include "core/regulation/complaint/explain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten::complaint {

std::string print_look(Look look, std::optional<double> value) {
  const LookKind& kind = kind_of(look);
  if (!value || std::isnan(*value)) return fmt::format("not readable ({})", kind.none);
  switch (kind.unit) {
    case ReadingUnit::grade:
      return fmt::format("{:.0f}", *value);
    case ReadingUnit::gram_force:
      return fmt::format("{:.0f} gf", *value);
    case ReadingUnit::fraction:
      return fmt::format("{:.2f}", *value);
    default: {
      const int decimals = kind.usual_uncertainty < 0.1 ? 2 : 1;
      // Never "-0.0".
      const double shown = std::abs(*value) < 0.5 * std::pow(10.0, -decimals) ? 0 : *value;
      return fmt::format("{:.{}f} mm", shown, decimals);
    }
  }
}

CauseReason reason_of(const ComplaintTable& table, std::span<const double> expected,
                      std::span<const Complaint> explained, std::span<const Complaint> felt,
                      std::span<const Sighting> seen) {
  CauseReason because;
  for (const Complaint c : felt) {
    const bool is = std::ranges::find(explained, c) != explained.end();
    (is ? because.explained : because.unexplained).push_back(c);
  }
  for (const Sighting& s : seen) {
    const auto k = static_cast<std::size_t>(s.look);
    const double beside = s.beside.value_or(table.sound[k]);
    because.looks.push_back(
        {s.look, s.value.value_or(std::nan("")), expected[k] - table.sound[k] + beside, beside});
  }
  return because;
}

std::string explain_cause(const CauseReason& because) {
  std::string text;
  const auto say = [&](const std::string& sentence) {
    if (!text.empty()) text += ' ';
    text += sentence;
  };
  const auto codes = [](std::span<const Complaint> list) {
    std::string joined;
    for (const Complaint c : list) {
      if (!joined.empty()) joined += ", ";
      joined += kind_of(c).code;
    }
    return joined;
  };
  if (!because.explained.empty())
    say(fmt::format("Would be felt so: {}.", codes(because.explained)));
  if (!because.unexplained.empty())
    say(fmt::format("Would seldom be felt so: {}.", codes(because.unexplained)));
  // Only what tells this cause from a note in order, or speaks against it.
  std::string fits;
  for (const LookCompared& l : because.looks) {
    const std::string given = print_look(l.look, l.given), sound = print_look(l.look, l.sound);
    if (given == sound) {
      if (!fits.empty()) fits += ", ";
      fits += kind_of(l.look).name;
      continue;
    }
    say(fmt::format("{} is {}, where this gives about {} and a note in order {}.",
                    kind_of(l.look).name, print_look(l.look, l.seen), given, sound));
  }
  if (!fits.empty()) say(fmt::format("It would leave as they are: {}.", fits));
  return text;
}

std::string explain_mend(const Mend& mend) {
  std::string text{kind_of(mend.cause).remedy};
  if (mend.adjuster && mend.read_by && std::isnan(mend.from))
    text +=
        fmt::format(" {}: to {}.", kind_of(*mend.read_by).name, print_look(*mend.read_by, mend.to));
  else if (mend.adjuster && mend.read_by)
    text += fmt::format(" {}: from about {} to {}.", kind_of(*mend.read_by).name,
                        print_look(*mend.read_by, mend.from), print_look(*mend.read_by, mend.to));
  return text;
}

std::string summarise(const Diagnosis& d) {
  const RankedCause& first = d.ranked.front();
  const auto percent = [](double p) { return fmt::format("{:.0f} %", 100 * std::min(p, 0.99)); };
  std::string text;
  if (d.known) {
    text =
        fmt::format("Very likely {} ({}).", kind_of(first.cause).name, percent(first.probability));
  } else if (first.cause == Cause::no_fault && first.probability >= known_from) {
    text = fmt::format(
        "What was read is in order ({}): regulation does not explain this. Look at "
        "the hammer's felt, the strings and the room.",
        percent(first.probability));
  } else if (first.cause == Cause::something_else && first.probability >= known_from) {
    text = fmt::format("None of the causes known here fits what was read ({}).",
                       percent(first.probability));
  } else {
    text = fmt::format("Not known yet: {} ({}) or {} ({}) lead.", kind_of(first.cause).name,
                       percent(first.probability), kind_of(d.ranked[1].cause).name,
                       percent(d.ranked[1].probability));
  }
  if (!d.known && !d.next.empty())
    text += fmt::format(" Look next at: {}.", kind_of(d.next.front().taking).name);
  else if (!d.known)
    text += " Nothing listed here would tell more.";
  else if (d.mend)
    text += " " + d.mend->text;
  return text;
}

}  // namespace batten::complaint

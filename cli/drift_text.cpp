#include "cli/drift_commands.hpp"
#include "cli/terminal.hpp"
#include "core/quantities/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten::cli {

namespace {

constexpr Language english = Language::english;
// Every so many months one line of the table.
constexpr std::size_t step = 3;

std::string percent(double share) { return share_text(share, english); }

// "+0.21 mm": signed, as fine as the gauge tells.
std::string amount(Reading reading, double value, bool inches) {
  const ReadingUnit unit = kind_of(reading).unit;
  if (unit == ReadingUnit::millimetre && inches)
    return print_inches(value * millimetre, {.decimals = 4, .plus = true});
  if (unit == ReadingUnit::millimetre)
    return print_millimetres(value * millimetre, {.decimals = 2, .plus = true});
  const std::string number =
      print_number(value, {.decimals = unit == ReadingUnit::grade ? 1 : 3, .plus = true});
  return unit == ReadingUnit::grade ? number + " grade" : number;
}

std::string points_text(const Outlook& o) {
  std::string out = "  " + padded("when", 20) + right("outside", 8) + right("nine in ten", 18) +
                    right("limit passed", 15) + "\n";
  for (std::size_t k = 0; k < o.points.size(); k += step) {
    const OutlookPoint& p = o.points[k];
    out += "  " + padded(k == 0 ? "today" : date_of(p.at_ms, english), 20) +
           right(percent(p.share), 8) + right(percent(p.low) + " to " + percent(p.high), 18) +
           right(percent(p.chance_over_limit), 15) + "\n";
  }
  return out;
}

std::string readings_text(const Outlook& o, bool inches) {
  const std::size_t year = std::min<std::size_t>(12, o.points.size() - 1);
  std::string out = "  " + padded("reading", 17) + right("notes", 6) + right("now", 7) +
                    right(fmt::format("{} mo", year), 8) + right("playing in", 14) +
                    right("dry to damp", 15) + right("wear a year", 15) + "\n";
  for (const OutlookReading& r : o.readings) {
    const auto cause = [&](DriftCause c) {
      return amount(r.reading, r.causes[static_cast<std::size_t>(c)].mean, inches);
    };
    out += "  " + padded(kind_of(r.reading).name, 17) + right(std::to_string(r.notes), 6) +
           right(percent(r.points.front().share), 7) + right(percent(r.points[year].share), 8) +
           right(cause(DriftCause::playing_in), 14) + right(cause(DriftCause::season), 15) +
           right(cause(DriftCause::wear), 15) + "\n";
  }
  return out;
}

}  // namespace

std::string drift_text(const Piano& piano, const Outlook& o, bool inches) {
  std::string out = inked(piano.name + ": over time", Ink::strong) + "\n\n";
  out += wrapped(capital(due_sentence(o, english)) + ".", "");
  out += wrapped(grounds_sentence(o, english), "");
  if (o.known == 0) return out;
  out += "\nReadings outside their tolerance if nobody works on it:\n" + points_text(o);
  out += "\nBy reading, and what is believed to move it:\n" + readings_text(o, inches);
  return out;
}

std::string checks_text(const FirstChecks& f, bool inches) {
  const std::string code(code_of(f.spell));
  std::string out =
      inked("First things to check " + say(english, "drift.after." + code), Ink::strong) + "\n";
  if (!f.listed.empty()) {
    out +=
        wrapped(say(english, f.listed_is_ours ? "drift.checks.practice" : "drift.checks.own"), "");
    for (const std::string& line : f.listed)
      out += wrapped("- " + (f.listed_is_ours ? say(english, line) : line), "  ");
    return out;
  }
  out += wrapped(say(english, "drift.checks.assumed." + code,
                     {{"moisture", number_in(english, std::abs(f.moisture), 0)},
                      {"hours", number_in(english, f.hours, 0)}}),
                 "");
  if (f.checks.empty()) return out + say(english, "drift.checks.none") + "\n";
  for (std::size_t i = 0; i < f.checks.size(); ++i) {
    const FirstCheck& c = f.checks[i];
    std::string notes;
    for (const Key key : c.notes) notes += (notes.empty() ? "" : " ") + note_name(key);
    out += fmt::format("  {:2}. ", i + 1) + padded(kind_of(c.reading).name, 17) +
           right(amount(c.reading, c.change, inches), 12) + " ± " +
           padded(amount(c.reading, c.sd, inches).substr(1), 10) +
           right(fmt::format("{:.1f} tol", c.in_tolerances), 9) +
           right(percent(c.newly_outside) + " leave", 13) + "   " + notes + "\n";
  }
  return out;
}

}  // namespace batten::cli

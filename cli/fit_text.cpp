#include "cli/fit_commands.hpp"
#include "cli/terminal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten::cli {

namespace {

using fit::What;

std::string_view name_of(const fit::Reading& r) {
  switch (r.what) {
    case What::blow:
      return "blow";
    case What::let_off:
      return "let-off";
    case What::drop:
      return "drop";
    case What::dip:
      return "dip";
    case What::aftertouch:
      return "aftertouch";
    case What::down_weight:
      return "down weight";
    case What::up_weight:
      return "up weight";
    case What::rise:
      return "rise";
    case What::dimension:
      return "hammer centre friction";
    case What::ratio:
      return "action ratio";
    case What::course:
      return "fall of the ratio";
  }
  return "";
}

std::string shown(const fit::Reading& r, double value) {
  constexpr double gf = 9.80665e-3, friction_radius = 0.023;
  if (r.what == What::down_weight || r.what == What::up_weight)
    return fmt::format("{:.1f} gf", value / gf);
  if (r.what == What::dimension) return fmt::format("{:.1f} gf", value / gf / friction_radius);
  return fmt::format("{:.2f} mm", value * 1e3);
}

std::string called(const FittedReading& r) {
  std::string text = note_name(r.reading.note) + " " + std::string(name_of(r.reading));
  if (r.reading.what == What::rise) text += fmt::format(" at {:.1f} mm", r.reading.depth * 1e3);
  return text;
}

std::string count(std::size_t n, std::string_view one) {
  return fmt::format("{} {}{}", n, one, n == 1 ? "" : "s");
}

std::string figures_text(const Fit& fit) {
  std::string text = inked("Action ratio", Ink::strong) + "\n";
  for (const FittedFigure& ratio : fit.figures) {
    if (ratio.what != What::ratio) continue;
    text += fmt::format("  {:<4} mean {:5.2f} ± {:.2f}, {}", note_name(ratio.note), ratio.value,
                        ratio.sd, words(ratio.told));
    for (const FittedFigure& f : fit.figures)
      if (f.what == What::course && f.note == ratio.note)
        text += fmt::format("; falls by {:.0f} ± {:.0f} % over the stroke, {}", 100 * f.value,
                            100 * f.sd, words(f.told));
    text += "\n";
  }
  return text;
}

std::string parameters_text(const Fit& fit) {
  std::string text =
      inked("Numbers of the profile", Ink::strong) + "                                changed by\n";
  for (const FittedParameter& p : fit.parameters) {
    const double unit = p.parameter.unit_si;
    text += fmt::format("  {}  {:+7.2f} ± {:<5.2f} {:<2}  {}\n", padded(p.parameter.name, 50),
                        p.change / unit, p.sd / unit, p.parameter.unit, words(p.told));
  }
  return text;
}

std::string doubts_text(const Fit& fit) {
  std::string text;
  for (const FittedReading& r : fit.readings) {
    if (!r.doubtful) continue;
    std::string line = fmt::format("{}: read {}, the others say {}", called(r),
                                   shown(r.reading, r.reading.value), shown(r.reading, r.fitted));
    for (std::size_t k = 0; k < r.or_else.size(); ++k)
      line += (k == 0 ? "; or the fault is in " : ", ") + called(fit.readings[r.or_else[k]]);
    text += wrapped(line + ".", "  ");
  }
  if (text.empty()) return "No reading contradicts the others.\n";
  return inked("Doubtful, read again", Ink::doubt) + "\n" + text;
}

// What would tell more.
std::string more_text(const Fit& fit) {
  const auto has = [&](What what) {
    return std::ranges::any_of(fit.readings,
                               [&](const FittedReading& r) { return r.reading.what == what; });
  };
  std::string text;
  if (!has(What::rise))
    text += wrapped(
        "How the ratio runs over the stroke: hold a few keys down on shims of 2, 4 and 6 mm, read "
        "how far the crown has risen, and name the list with --pairs.",
        "  ");
  if (!has(What::aftertouch))
    text += wrapped("The mean ratio: read aftertouch beside blow, let-off and dip.", "  ");
  if (!has(What::down_weight) || !has(What::up_weight))
    text += wrapped("Friction: read down and up weights.", "  ");
  else if (!has(What::dimension))
    text += wrapped(
        "Which centres rub: hammer centre friction, read on a few freed hammers, sets the hammer's "
        "apart.",
        "  ");
  text += wrapped(
      "Head masses: no reading on the piano tells them, since leads in the keys, which are "
      "unknown, "
      "balance any. Neither springs, checks nor dampers are told: the hand sets them.",
      "  ");
  return inked("What would tell more", Ink::strong) + "\n" + text;
}

}  // namespace

std::string fit_text(const Piano& piano, const PianoFit& fitted) {
  const Fit& fit = fitted.fit;
  std::string text = fmt::format("{}: profile {} fitted to {} at {}; {}.\n", piano.name,
                                 fitted.base, count(fit.readings.size(), "reading"),
                                 count(fit.model.notes.size(), "note"), fit.ending);
  for (const std::string& aside : fitted.put_aside) text += wrapped("Not used: " + aside + ".", "");
  text += "\n" + figures_text(fit) + "\n" + parameters_text(fit);
  text += wrapped(
      "± is one standard deviation. \"Told\": the readings narrow it to half and less of what was "
      "known before; \"not told\": the value is an assumption.",
      "  ");
  text += "\n" + inked("What the readings tell", Ink::strong) + ", each line by itself\n";
  for (const Direction& d : fit.told_together) text += wrapped(words(fit, d) + ".", "  ");
  return text + "\n" + doubts_text(fit) + "\n" + more_text(fit);
}

}  // namespace batten::cli

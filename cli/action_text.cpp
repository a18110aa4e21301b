#include "cli/action_text.hpp"

#include "cli/terminal.hpp"
#include "core/action/words.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/cautions.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <fmt/format.h>

#include <cmath>

namespace batten::cli {

namespace {

using action::adjuster_words;
using action::Influence;
using action::Readings;
using action::row_words;
using action::RowWords;

void heading(std::string& out, std::string_view text) {
  out += "\n" + inked(text, Ink::strong) + "\n";
}

std::string in_unit(const RowWords& row, double si, bool inches) {
  if (row.unit == "mm")
    return inches ? print_inches(si * metre)
                  : print_millimetres(si * metre, {.decimals = row.decimals});
  const std::string number = print_number(si / row.unit_si, {.decimals = row.decimals});
  return std::isfinite(si) ? number + "\u202f" + std::string(row.unit) : number;
}

void say_state(std::string& out, const std::string& called, const ActionView& view, bool inches) {
  const auto& r = view.prepared.regulated;
  out += inked(called + ", " + note_name(view.prepared.key), Ink::strong) + "\n";
  if (!view.file.description.empty()) out += wrapped(view.file.description, "");
  if (r.reached)
    out += "Regulated by the model to what its profile wants.\n";
  else
    out += inked("Not all that the profile wants could be reached; the readings show how far.",
                 Ink::doubt) +
           "\n";
  if (!view.changed) return;
  out += "Moved from there:";
  bool first = true;
  for (std::size_t a = 0; a < action::adjustment_count; ++a) {
    const double amount = view.changes.*action::adjustment_members[a];
    if (amount == 0) continue;
    out += (first ? " " : "; ") + std::string(adjuster_words()[a].name) + ", " +
           inked(move_text(a, amount, inches), Ink::move);
    first = false;
  }
  out += first ? " nothing.\n" : ".\n";
}

void say_faults(std::string& out, const Readings& r) {
  if (r.faults.empty()) return;
  heading(out, "This note does not work so");
  bool may_break = false, escapement = false;
  for (const action::Fault f : r.faults) {
    const action::FaultWords& w = words_of(f);
    out += "  " + inked("! ", Ink::stop) + wrapped(w.name, "");
    out += wrapped(w.todo, "    ");
    may_break = may_break || w.may_break;
    escapement = escapement || f == action::Fault::no_escapement;
  }
  // Where the hand is about to do the risky thing.
  const auto mind = [&](Caution c) {
    out += wrapped(std::string(text_of(c).heading) + ". " + std::string(text_of(c).text), "  ");
  };
  if (may_break) mind(Caution::blocked_hammer);
  if (escapement) mind(Caution::lost_escapement);
}

void say_readings(std::string& out, const ActionView& view, bool inches) {
  heading(out, "Readings");
  const bool both = view.changed;
  out += "  " +
         inked(padded("", 29) + (both ? padded("regulated", 14) : "") +
                   padded(both ? "as moved" : "", 14) + "usual",
               Ink::quiet) +
         "\n";
  const auto row = [&](std::string_view name, const std::string& regulated, const std::string& now,
                       const std::string& usual) {
    out += "  " + padded(name, 29) + (both ? padded(regulated, 14) : "") +
           (usual.empty() ? now : padded(now, 14) + usual) + "\n";
  };
  const Readings& before = view.regulated_readings;
  for (const RowWords& w : row_words()) {
    const auto i = static_cast<std::size_t>(w.row);
    std::string now = reading_text(view.readings, i, inches);
    std::string was = reading_text(before, i, inches);
    if (w.row == action::Row::spring_rise) {
      now = fmt::format("grade {}", view.readings.spring_grade);
      was = fmt::format("grade {}", before.spring_grade);
    }
    row(w.name, was, now, usual_text(i, inches));
  }
  const auto ratio = [&](const Readings& r) {
    return fmt::format("{} at rest, {} before let-off, {} mean", print_number(r.ratio_start),
                       print_number(r.ratio_end), print_number(r.ratio_mean));
  };
  out += "  " + padded("hammer travel to key travel", 29) + ratio(view.readings) + "\n";
  out += "  " + padded("", 29) +
         fmt::format("(blow − let-off) / (dip − aftertouch) = {}\n",
                     print_number(view.readings.ratio_identity));
}

void say_setting(std::string& out, const ActionView& view, bool inches) {
  heading(out, "How it is set, from the design");
  for (std::size_t a = 0; a < action::adjustment_count; ++a)
    out += "  " + padded(adjuster_words()[a].name, 29) +
           move_text(a, view.note.adjustments.*action::adjustment_members[a], inches) + "\n";
  out += "  Let-off button and drop screw: from where they touch nothing.\n";
}

void say_influence(std::string& out, const Influence& influence) {
  constexpr std::string_view short_names[] = {"capstan", "balance", "front", "jack",  "lever",
                                              "spring",  "let-off", "drop",  "check", "damper"};
  constexpr std::string_view second_names[] = {"",      "rail",   "rail",  "button", "button",
                                               "tenth", "button", "screw", "",       "wire"};
  static_assert(std::size(short_names) == action::adjustment_count);
  heading(out,
          "What moves what: change of each reading for 1 mm at the part (spring: a tenth more)");
  const auto width = [](std::size_t a) {
    return a < 2 || a == 6 ? std::size_t{8} : std::size_t{7};
  };
  std::string first = "  " + padded("", 20), second = first;
  for (std::size_t a = 0; a < action::adjustment_count; ++a) {
    first += right(short_names[a], width(a));
    second += right(second_names[a], width(a));
  }
  out += inked(first, Ink::quiet) + "\n" + inked(second, Ink::quiet) + "\n";
  bool unsure = false;
  for (const RowWords& w : row_words()) {
    const auto i = static_cast<std::size_t>(w.row);
    out += "  " + padded(w.name.substr(0, w.name.find(',')), 15) + padded(w.unit, 5);
    for (std::size_t a = 0; a < action::adjustment_count; ++a) {
      const double scale = adjuster_words()[a].unit_si / w.unit_si;
      const double value = influence.value[i][a] * scale, error = influence.error[i][a] * scale;
      const double least = 0.5 * std::pow(10, -w.influence_decimals);
      std::string text = "·";
      // Smaller than its own doubt and of no account: nothing.
      const bool noise = error > 0.5 * std::abs(value) && std::abs(value) < 12 * least;
      if (!std::isfinite(value)) {
        text = "–";
      } else if (std::abs(value) >= least && !noise) {
        const bool doubtful = error > 0.1 * std::abs(value) + least;
        unsure = unsure || doubtful;
        text = (doubtful ? "~" : "") +
               print_number(value, {.decimals = w.influence_decimals, .plus = true});
      }
      out += right(text, width(a));
    }
    out += "\n";
  }
  out += wrapped(
      std::string(
          "+ is: capstan raised, punchings added, jack toward the player, lever up, spring "
          "stronger, let-off earlier, more drop, check toward the hammer, damper later. "
          "Check distance here: where the falling tail first touches the check. · less than the "
          "last figure.") +
          (unsure ? " ~ unsure: over half the step it differs by more than a tenth." : ""),
      "  ");
}

}  // namespace

std::string reading_text(const Readings& readings, std::size_t row, bool inches) {
  const RowWords& w = row_words()[row];
  return in_unit(w, readings.*w.member, inches);
}

std::string usual_text(std::size_t row, bool inches) {
  const RowWords& w = row_words()[row];
  const auto reading = reading_by_code(w.code);
  // The catalogue's key height is over the key bed, the model's over its design.
  if (!reading || w.row == action::Row::key_height) return "";
  const ReadingKind& kind = kind_of(*reading);
  if (!kind.usual_low) return "";
  if (w.row == action::Row::spring_rise)
    return fmt::format("grade {}", print_number(*kind.usual_low, {.decimals = 0}));
  const double unit = kind.unit == ReadingUnit::millimetre   ? 1e-3
                      : kind.unit == ReadingUnit::gram_force ? 9.80665e-3
                                                             : 1;
  RowWords coarse = w;
  coarse.decimals = kind.unit != ReadingUnit::millimetre ? 0 : *kind.usual_low >= 9 ? 1 : 2;
  const std::string low = in_unit(coarse, *kind.usual_low * unit, inches);
  if (!kind.usual_high) return low + " or more";
  if (*kind.usual_high == *kind.usual_low) return low;
  const std::string high = in_unit(coarse, *kind.usual_high * unit, inches);
  return low.substr(0, low.find("\u202f")) + " to " + high;
}

std::string move_text(std::size_t adjuster, double amount, bool inches) {
  const auto& w = adjuster_words()[adjuster];
  const auto code = adjuster_by_code(w.code);
  if (std::abs(amount) < 5e-7 || !code) return "as designed";
  const AdjusterKind& kind = kind_of(*code);
  const double size = std::abs(amount);
  const std::string much = w.unit == "mm" ? (inches ? print_inches(size * metre, {.decimals = 4})
                                                    : print_millimetres(size * metre))
                                          : print_number(100 * size, {.decimals = 0}) + "\u202f%";
  return std::string(amount > 0 ? kind.positive : kind.negative) + " " + much;
}

std::string profiles_text() {
  std::string out;
  for (const StoredProfile& p : stored_profiles()) {
    const auto file = parse_profile(p.text, p.name);
    out += inked(p.name, Ink::strong) + "\n";
    if (file) out += wrapped(file->description, "    ");
  }
  return out + "Look at one with \"batten profiles medium\", make your own from it with -o FILE.\n";
}

std::string action_text(const std::string& called, const ActionView& view,
                        const Influence& influence, bool inches) {
  std::string out;
  say_state(out, called, view, inches);
  say_faults(out, view.readings);
  say_readings(out, view, inches);
  say_setting(out, view, inches);
  say_influence(out, influence);
  heading(out, "Mind");
  out += wrapped(
      "The figures are a model's, from estimated dimensions, not measurements of your "
      "piano: trust them for directions and proportions.",
      "  ");
  for (const Caution c : {Caution::makers_instructions})
    out += wrapped(std::string(text_of(c).heading) + ". " + std::string(text_of(c).text), "  ");
  return out;
}

}  // namespace batten::cli

#include "cli/line_text.hpp"

#include "cli/terminal.hpp"
#include "core/quantities/text.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>

namespace batten::cli {

namespace {

// Lengths as this user reads them. Deviations to 0.01 mm would boast; 0.1 mm hides a 1/64 turn.
struct Show {
  bool inches;
  std::string height(Length l) const {
    return inches ? print_inches(l, {.decimals = 3}) : print_millimetres(l, {.decimals = 2});
  }
  std::string signed_length(Length l) const {
    return inches ? print_inches(l, {.decimals = 3, .plus = true})
                  : print_millimetres(l, {.decimals = 2, .plus = true});
  }
  std::string travel(Length l) const {
    return inches ? print_inches(l, {.decimals = 3}) : print_millimetres(l, {.decimals = 1});
  }
};

std::string plural(std::size_t n, const char* one, const char* many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string percent(double chance) {
  return fmt::format("{:.0f}\u202f%", std::min(99.0, std::round(100 * chance)));
}

void heading(std::string& out, std::string_view text) {
  out += "\n" + inked(text, Ink::strong) + "\n";
}

void say_state(std::string& out, const Piano& piano, const Line& line, const Show& show) {
  std::size_t strings = 0, hammers = 0;
  for (const SectionSummary& s : line.sections) {
    strings += static_cast<std::size_t>(s.strings_read);
    hammers += static_cast<std::size_t>(s.hammers_read);
  }
  out += inked(piano.name, Ink::strong);
  if (!piano.place.empty()) out += " · " + piano.place;
  out += fmt::format("\nHammer line: {} string readings, {} of {} hammers read.\n", strings,
                     hammers, line.compass.count());
  const TransferEstimate& t = line.transfer;
  if (t.needed && t.ready)
    out += fmt::format("Hammers were read on the bench; add {} (bass) to {} (treble), ± {}.\n",
                       show.height(t.offset_at_lowest), show.height(t.offset_at_highest),
                       show.height(t.sd_ends));
}

void say_gate(std::string& out, const PreparationGate& gate) {
  if (gate.open) return;
  heading(out, "No capstan yet: the preparation is not passed");
  for (const auto& i : gate.items) {
    if (i.passed) continue;
    std::string why = i.record ? "wanting" : "nothing on record";
    if (!i.wanting_notes.empty()) {
      why = "wanting at";
      for (Key k : i.wanting_notes) why += " " + note_name(k);
    }
    const PreparationKind& kind = kind_of(i.item);
    out += fmt::format("  [ ] {} {}\n      {}\n", padded(kind.name, 26), inked(why, Ink::doubt),
                       kind.how);
  }
  out +=
      "  Note each with: batten prepare ITEM found|done|waived|wanting   (ITEM as in "
      "\"screws-tight\")\n";
}

void say_transfer(std::string& out, const TransferEstimate& t) {
  if (t.ready) return;
  heading(out, "No capstan yet: the bench is not tied to the strings");
  out += fmt::format(
      "  Hammers were read over the bench, strings over their own datum. The same height read "
      "over\n"
      "  both at three notes or more gives the difference; {} so far.\n"
      "  Enter each with: batten read datum-transfer NOTE MM   (strings' figure less the "
      "bench's)\n",
      plural(static_cast<std::size_t>(t.readings), "note", "notes"));
}

void say_sections(std::string& out, const Line& line, const Show& show) {
  heading(out, "Sections");
  out += "  " +
         inked(padded("notes", 12) + padded("blow wanted", 24) + padded("target sure to", 18) +
                   padded("uneven by, to target", 22) + "to neighbours",
               Ink::quiet) +
         "\n";
  for (const SectionSummary& s : line.sections) {
    const std::string blow =
        s.blow.at_first == s.blow.at_last
            ? show.travel(s.blow.at_first)
            : show.travel(s.blow.at_first) + " to " + show.travel(s.blow.at_last);
    const auto or_dash = [&](const std::optional<Length>& l) {
      return l ? show.height(*l) : std::string("–");
    };
    const bool known = std::isfinite(s.target_sd_rms.si());
    out += "  " + padded(note_name(s.section.first) + "–" + note_name(s.section.last), 12) +
           padded(blow, 24) +
           padded(known ? "± " + show.height(s.target_sd_rms) : "strings not read", 18) +
           padded(or_dash(s.evenness_to_target), 22) + or_dash(s.evenness_to_neighbours) + "\n";
  }
}

std::string move_amount(const Line& line, const NoteLine& n) {
  const bool up = n.turns > Turns();
  return fmt::format("{} {} {}", up ? "↑" : "↓", verdict_words(n),
                     print_turns(abs(n.turns), line.settings.turn_denominator));
}

void say_worklist(std::string& out, const Line& line, const Show& show) {
  if (line.order.empty()) return;
  heading(out, fmt::format("Worklist: {}, samples first, then by halves",
                           plural(line.order.size(), "capstan", "capstans")));
  const LengthPerTurn pitch = line.settings.crown_per_turn;
  out += fmt::format(
      "  Reckoned with {} of crown per turn ± {}, not yet learned from this piano: turn, settle "
      "the\n"
      "  hammer with a tap, and trust the crown's travel before the count of turns.\n",
      show.travel(pitch * turn), show.travel(line.settings.crown_per_turn_sd * turn));
  int step = 0;
  for (Key key : line.order) {
    const NoteLine& n = line.at(key);
    const bool up = n.turns > Turns();
    out += fmt::format("{} {} {} {} until the crown has {} {}\n", right(std::to_string(++step), 5),
                       padded(note_name(key), 4), padded(n.sample ? "sample" : "", 7),
                       inked(padded(move_amount(line, n), 22), Ink::move), up ? "risen" : "sunk",
                       show.travel(abs(n.crown_travel)));
  }
  out += "  Record each with: batten turned NOTE \"raise 3/64\"   then read the hammer again.\n";
}

void say_left_alone(std::string& out, const Line& line) {
  std::map<std::string, std::vector<Key>> by_words;
  for (const NoteLine& n : line.notes)
    if (n.verdict != Verdict::move) by_words[verdict_words(n)].push_back(n.key);
  if (by_words.empty()) return;
  heading(out, "Not turned");
  for (const auto& [words, keys] : by_words) {
    std::string row = fmt::format("  {} ({}):", words, keys.size());
    std::size_t width = row.size();
    for (Key k : keys) {
      const std::string name = " " + note_name(k);
      if (width + name.size() > 98) {
        row += "\n     ";
        width = 5;
      }
      row += name;
      width += name.size();
    }
    out += row + "\n";
  }
}

void say_notes(std::string& out, const Line& line, const Show& show, bool all) {
  heading(out, "Notes");
  out +=
      "  " +
      inked(padded("note", 6) + padded("string", 11) + padded("target", 20) + padded("hammer", 11) +
                padded("off by", 20) + padded("neighbours", 12) + "advice",
            Ink::quiet) +
      "\n";
  const bool advised = line.gate.open && line.transfer.ready;
  for (const NoteLine& n : line.notes) {
    if (!all && !n.deviation && n.verdict != Verdict::moved_read_again) continue;
    const bool known = std::isfinite(n.target_sd.si());
    const auto or_blank = [&](const std::optional<Length>& l) {
      return l ? show.height(*l) : std::string("–");
    };
    std::string advice = verdict_words(n);
    if (n.verdict == Verdict::move) advice = advised ? move_amount(line, n) : "no capstan yet";
    out +=
        "  " + padded(note_name(n.key) + (n.sample ? "*" : ""), 6) +
        padded(known ? show.height(n.string_fair) : "–", 11) +
        padded(known ? show.height(n.target) + " ± " +
                           fmt::format("{:.2f}", show.inches ? n.target_sd.in(inch)
                                                             : n.target_sd.in(millimetre))
                     : "–",
               20) +
        padded(or_blank(n.hammer), 11) +
        padded(n.deviation ? show.signed_length(*n.deviation) + " ± " +
                                 fmt::format("{:.2f}", show.inches ? n.deviation_sd->in(inch)
                                                                   : n.deviation_sd->in(millimetre))
                           : "–",
               20) +
        padded(n.to_neighbours ? show.signed_length(*n.to_neighbours) : "–", 12) +
        (n.verdict == Verdict::move && advised ? inked(advice, Ink::move) : advice) + "\n";
  }
  out += "  * sample.  ± is one standard deviation.  off by: + the hammer stands too high.\n";
}

void say_cautions(std::string& out, const Line& line) {
  heading(out, "Mind");
  for (Caution c : line.cautions) {
    std::string text = "  " + std::string(text_of(c).heading) + ". " + std::string(text_of(c).text);
    // Wrapped by hand at 98 columns; words only.
    std::string row;
    std::size_t at = 0;
    while (at < text.size()) {
      std::size_t end = text.size() - at <= 98 ? text.size() : text.rfind(' ', at + 98);
      if (end == std::string::npos || end <= at) end = text.size();
      out += row + text.substr(at, end - at) + "\n";
      at = end + 1;
      row = "    ";
    }
  }
}

}  // namespace

std::string look_first_text(const Line& line, bool inches) {
  const Show show{inches};
  std::string out;
  if (!line.findings.empty()) heading(out, "Look first");
  for (const Finding& f : line.findings) {
    const std::string name = padded(note_name(f.key), 4);
    switch (f.kind) {
      case Finding::Kind::reading_flagged:
        out += inked(
            fmt::format(
                "  ? {} string read {}, the others say {} ± {}: read it again ({} likely wrong)\n",
                name, show.height(f.read), show.height(f.expected), show.height(f.expected_sd),
                percent(f.chance_wrong)),
            Ink::doubt);
        break;
      case Finding::Kind::reading_asked:
        out +=
            fmt::format("  · {} string read {}, the others say {} ± {}: worth a second look ({})\n",
                        name, show.height(f.read), show.height(f.expected),
                        show.height(f.expected_sd), percent(f.chance_wrong));
        break;
      case Finding::Kind::unison_off_level:
        out += fmt::format(
            "  ! {} strings of the unison {} off level: level them before this blow is set\n", name,
            show.height(f.read));
        break;
    }
  }
  std::string next;
  for (const NextReading& n : line.next_string) {
    const Length worth_it = 0.003 * millimetre;  // less is not worth a walk to the piano
    if (n.settles_doubt)
      next += fmt::format("  {} again: settles a doubt\n", padded(note_name(n.key), 4));
    else if (n.drop > worth_it || !std::isfinite(n.drop.si()))
      next +=
          fmt::format("  {} makes its section's target surer by {}\n", padded(note_name(n.key), 4),
                      inches ? print_inches(n.drop, {.decimals = 4})
                             : print_millimetres(n.drop, {.decimals = 3}));
  }
  if (!next.empty()) {
    heading(out, "String heights worth reading next");
    out += next;
  }
  return out;
}

std::string line_text(const Piano& piano, const Line& line, const LineTextOptions& options) {
  const Show show{options.inches};
  std::string out;
  say_state(out, piano, line, show);
  say_gate(out, line.gate);
  say_transfer(out, line.transfer);
  out += look_first_text(line, options.inches);
  say_sections(out, line, show);
  say_notes(out, line, show, options.all);
  say_cautions(out, line);
  say_worklist(out, line, show);
  say_left_alone(out, line);
  return out;
}

}  // namespace batten::cli

#include "cli/line_text.hpp"

#include "cli/terminal.hpp"
#include "core/quantities/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

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
  // Without the unit, which the table's heading gives.
  std::string bare(Length l, bool plus = false) const {
    return inches ? print_number(l.in(inch), {.decimals = 3, .plus = plus})
                  : print_number(l.in(millimetre), {.decimals = 2, .plus = plus});
  }
  std::string with_sd(Length l, Length sd, bool plus = false) const {
    return bare(l, plus) + " ± " + bare(sd);
  }
  std::string unit() const { return inches ? "in" : "mm"; }
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
    std::string why =
        i.record && i.record->state == PreparationState::wanting ? "wanting" : "nothing on record";
    if (i.earlier_visit) why = "passed in an earlier visit: look again";
    if (!i.wanting_notes.empty()) {
      why = "wanting at";
      for (Key k : i.wanting_notes) why += " " + note_name(k);
    }
    const PreparationKind& kind = kind_of(i.item);
    // By the word that is typed, which is also the one that is said.
    out += fmt::format("  [ ] {} {}\n", padded(kind.code, 23), inked(why, Ink::doubt));
    out += wrapped(kind.how, "      ");
  }
  out +=
      "  Note each with: batten prepare screws-tight found   (in order; or done, wanting, or "
      "waived\n"
      "  --because \"…\")\n";
}

void say_transfer(std::string& out, const TransferEstimate& t) {
  if (t.ready) return;
  heading(out, "No capstan yet: the bench is not tied to the strings");
  out += wrapped(
      fmt::format("Hammers were read over the bench, strings over their own datum. The same height "
                  "read over both at three notes or more gives the difference; {} so far.",
                  plural(static_cast<std::size_t>(t.readings), "note", "notes")),
      "  ");
  out +=
      "  Enter each with: batten read datum-transfer C4 63.4   (strings' figure less the "
      "bench's)\n";
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

// "3/32": an amount as it is typed, in lowest terms.
std::string typed_turns(Turns turns, int denominator) {
  const long parts = std::lround(std::abs(turns.in(turn)) * denominator);
  const long common = std::gcd(parts, long{denominator});
  return fmt::format("{}/{}", parts / common, denominator / common);
}

void say_worklist(std::string& out, const Line& line, const Show& show) {
  if (line.order.empty()) return;
  heading(out, fmt::format("Worklist: {}, samples first, then by halves",
                           plural(line.order.size(), "capstan", "capstans")));
  out += wrapped(
      fmt::format(
          "Reckoned with {} ± {} of crown per turn (setting crown-per-turn): turn, settle the "
          "hammer with a tap, and trust the crown's travel before the count of turns.",
          show.travel(line.settings.crown_per_turn * turn),
          show.travel(line.settings.crown_per_turn_sd * turn)),
      "  ");
  int step = 0;
  for (Key key : line.order) {
    const NoteLine& n = line.at(key);
    const bool up = n.turns > Turns();
    out += fmt::format("{} {} {} {} until the crown has {} {}\n", right(std::to_string(++step), 5),
                       padded(note_name(key), 4), padded(n.sample ? "sample" : "", 7),
                       inked(padded(move_amount(line, n), 22), Ink::move), up ? "risen" : "sunk",
                       show.travel(abs(n.crown_travel)));
  }
  const NoteLine& first = line.at(line.order.front());
  out +=
      fmt::format("  Record each as made, then read the hammer again: batten turned {} \"{} {}\"\n",
                  note_name(first.key), verdict_words(first),
                  typed_turns(first.turns, line.settings.turn_denominator));
}

void say_left_alone(std::string& out, const Line& line) {
  std::map<std::string, std::vector<Key>> by_words;
  for (const NoteLine& n : line.notes)
    if (n.verdict != Verdict::move) by_words[verdict_words(n)].push_back(n.key);
  if (by_words.empty()) return;
  heading(out, "Not turned");
  for (const auto& [words, keys] : by_words) {
    std::string row = fmt::format("{} ({}):", words, keys.size());
    if (keys.size() == line.notes.size())
      row = words + ": all " + std::to_string(keys.size());
    else
      for (Key k : keys) row += " " + note_name(k);
    out += wrapped(row, "  ");
  }
}

void say_notes(std::string& out, const Line& line, const Show& show, bool all) {
  const auto worth_a_row = [&](const NoteLine& n) {
    return all || n.deviation || n.verdict == Verdict::moved_read_again;
  };
  if (std::none_of(line.notes.begin(), line.notes.end(), worth_a_row)) return;
  heading(out, "Notes, " + show.unit());
  out += "  " +
         inked(padded("note", 6) + padded("string", 8) + padded("target", 15) +
                   padded("hammer", 8) + padded("off by", 16) + padded("beside", 8) + "advice",
               Ink::quiet) +
         "\n";
  const bool advised = line.gate.open && line.transfer.ready;
  for (const NoteLine& n : line.notes) {
    if (!worth_a_row(n)) continue;
    const bool known = std::isfinite(n.target_sd.si());
    std::string advice = verdict_words(n);
    if (n.verdict == Verdict::move) advice = advised ? move_amount(line, n) : "no capstan yet";
    out += "  " + padded(note_name(n.key) + (n.sample ? "*" : ""), 6) +
           padded(known ? show.bare(n.string_fair) : "–", 8) +
           padded(known ? show.with_sd(n.target, n.target_sd) : "–", 15) +
           padded(n.hammer ? show.bare(*n.hammer) : "–", 8) +
           padded(n.deviation ? show.with_sd(*n.deviation, *n.deviation_sd, true) : "–", 16) +
           padded(n.to_neighbours ? show.bare(*n.to_neighbours, true) : "–", 8) +
           (n.verdict == Verdict::move && advised ? inked(advice, Ink::move) : advice) + "\n";
  }
  out += wrapped(
      "* sample. ± is one standard deviation. off by: from its target, + the hammer stands too "
      "high. "
      "beside: from the fair curve of the hammers around it, what the eye sees.",
      "  ");
}

void say_cautions(std::string& out, const Line& line) {
  heading(out, "Mind");
  for (Caution c : line.cautions)
    out += wrapped(std::string(text_of(c).heading) + ". " + std::string(text_of(c).text), "  ");
}

}  // namespace

std::string look_first_text(const Line& line, bool inches) {
  const Show show{inches};
  std::string out;
  if (!line.findings.empty()) heading(out, "Look first");
  for (const Finding& f : line.findings) {
    const std::string name = padded(note_name(f.key), 4);
    const std::string found =
        fmt::format("{} string read {}, the others say {} {}", name, show.height(f.read),
                    show.with_sd(f.expected, f.expected_sd), show.unit());
    switch (f.kind) {
      case Finding::Kind::reading_flagged:
        // Read again already, and the new reading is followed.
        if (f.chance_wrong > 0.5 && line.at(f.key).string_read) {
          out += fmt::format("  · {}: left out, another reading there fits\n", found);
          break;
        }
        out += inked(fmt::format("  ? {}: read it again ({} likely wrong)\n", found,
                                 percent(f.chance_wrong)),
                     Ink::doubt);
        break;
      case Finding::Kind::reading_asked:
        out += fmt::format("  · {}: worth a second look ({})\n", found, percent(f.chance_wrong));
        break;
      case Finding::Kind::unison_off_level:
        out += fmt::format(
            "  ! {} strings of the unison {} off level: level them, or its blow is unsure by as "
            "much\n",
            name, show.height(f.read));
        break;
    }
  }
  std::string next;
  for (const SectionSummary& s : line.sections)
    if (s.strings_read == 0)
      next += fmt::format("  {}–{}: none read yet\n", note_name(s.section.first),
                          note_name(s.section.last));
  if (!next.empty()) next += "  Begin with the samples: batten read string-height --samples\n";
  for (const NextReading& n : line.next_string) {
    const Length worth_it = 0.003 * millimetre;  // less is not worth a walk to the piano
    const Length unread = 5 * millimetre;        // more is the first reading of its section
    if (n.settles_doubt)
      next += fmt::format("  {} again: settles a doubt\n", padded(note_name(n.key), 4));
    else if (n.drop > worth_it && n.drop < unread)
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

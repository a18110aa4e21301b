#include "cli/brief_commands.hpp"
#include "cli/complaint_commands.hpp"
#include "cli/desk_work.hpp"
#include "cli/terminal.hpp"
#include "json/complaint_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

namespace batten::cli {

namespace {

constexpr std::size_t causes_shown = 5;
constexpr double worth_showing = 0.01;

std::string percent(double p) {
  return fmt::format("{:.0f}\u202f%", std::min(99.0, std::round(100 * p)));
}

// How to answer about a look: as a reading into the journal, or as a trial by hand.
std::string answer_with(const PianoDiagnosis& found, const LookKind& look) {
  const std::string note = note_name(found.key);
  if (look.reading)
    return fmt::format("batten read {} {} VALUE", kind_of(*look.reading).code, note);
  std::string felt;
  for (const Complaint c : found.felt) felt += " " + std::string(kind_of(c).code);
  return fmt::format(
      "batten complaint {}{} --look \"{} 0\" (in order), 1 (a little) or 2 (plainly)", note, felt,
      look.code);
}

}  // namespace

std::string complaints_text() {
  std::string out = "What a player may say of a note:\n";
  for (const ComplaintKind& k : complaint_kinds())
    out += "  " + std::string(k.code) + "\n" + wrapped(k.sentence, "      ");
  return out + "Ask with: batten complaint C4 double-strikes\n";
}

std::string complaint_text(const Piano& piano, const PianoDiagnosis& found, bool inches) {
  const auto shown = [&](const std::string& text) { return inches ? in_inches(text) : text; };
  const Diagnosis& d = found.diagnosis;
  std::string out = inked(piano.name, Ink::strong) + " · " + note_name(found.key) + "\n";
  for (const Complaint c : found.felt)
    out += wrapped("“" + std::string(kind_of(c).sentence) + "”", "  ");
  std::string read;
  for (const std::string& r : found.from_journal) read += (read.empty() ? "" : ", ") + r;
  if (!read.empty())
    out += wrapped("On record since it was last moved: " + shown(read) + ".", "  ");
  out += "\n" + wrapped(shown(d.summary), "");
  out += "\n" + inked("What may be behind it", Ink::strong) + "\n";
  std::size_t n = 0;
  for (const RankedCause& c : d.ranked) {
    if (n == causes_shown || c.probability < worth_showing) break;
    ++n;
    out += wrapped(fmt::format("{} {}{}", right(percent(c.probability), 5), kind_of(c.cause).name,
                               c.reason.empty() ? "" : ": " + shown(c.reason)),
                   " ");
  }
  if (!d.next.empty()) {
    const NextTaking& next = d.next.front();
    const TakingKind& taking = kind_of(next.taking);
    out += "\n" + inked("What would tell most", Ink::strong) + "\n";
    std::string name(taking.name);
    name[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(name[0])));
    out += wrapped(fmt::format("{}. It leaves about {:.0f}\u202f% of the doubt.", name,
                               100 * next.entropy_after / std::max(1e-9, next.entropy_before)),
                   "  ");
    for (const Look id : taking.looks) {
      // What has been found out already need not be again.
      if (std::ranges::any_of(found.seen, [&](const Sighting& s) { return s.look == id; }))
        continue;
      const LookKind& look = kind_of(id);
      std::string what(look.name);
      what[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(what[0])));
      out +=
          wrapped(fmt::format("{}: {} Answer: {}", what, look.how, answer_with(found, look)), "  ");
    }
  }
  if (d.mend) {
    out += "\n" + inked("What mends it", Ink::strong) + "\n";
    out += wrapped(shown(d.mend->text), "  ");
  }
  if (!d.cautions.empty()) out += "\n" + inked("Mind", Ink::strong) + "\n";
  for (const Caution c : d.cautions)
    out += wrapped(std::string(text_of(c).heading) + ". " + std::string(text_of(c).text), "  ");
  return out;
}

int complaint(const Common& common, const ComplaintWords& words) {
  if (words.words.empty()) {
    if (!words.looks.empty())
      return fail(common, {"A look is taken at a note.",
                           {},
                           "Say which: batten complaint C4 --look \"key-freedom 1\"."});
    say(common.json ? complaints_to_json() : complaints_text());
    return done;
  }
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    ComplaintRequest request{words.words.front(), {}, words.looks};
    request.felt.assign(words.words.begin() + 1, words.words.end());
    auto found = find_causes(desk, piano, request);
    if (!found) return fail(common, found.error());
    say(common.json ? to_json(piano, *found) : complaint_text(piano, *found, common.inches));
    return done;
  });
}

}  // namespace batten::cli

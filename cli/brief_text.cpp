#include "cli/brief_commands.hpp"
#include "cli/desk_work.hpp"
#include "cli/history_text.hpp"
#include "cli/terminal.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/brief/words.hpp"
#include "json/brief_json.hpp"
#include "json/journal_json.hpp"

#include <fmt/format.h>

#include <cctype>

namespace batten::cli {

std::string in_inches(const std::string& text) {
  static const std::string unit = "\u202fmm";
  std::string out;
  std::size_t from = 0;
  for (;;) {
    const auto at = text.find(unit, from);
    if (at == std::string::npos) return out + text.substr(from);
    std::size_t begin = at;
    while (begin > from && (std::isdigit(static_cast<unsigned char>(text[begin - 1])) != 0 ||
                            text[begin - 1] == '.'))
      --begin;
    out += text.substr(from, begin - from);
    if (auto value = parse_number(text.substr(begin, at - begin)); begin < at && value)
      out += print_inches(*value * millimetre);
    else
      out += text.substr(begin, at - begin) + unit;
    from = at + unit.size();
  }
}

std::string brief_text(const Piano& piano, const PianoBrief& b, bool inches) {
  const auto shown = [&](const std::string& text) { return inches ? in_inches(text) : text; };
  std::string out = inked(piano.name, Ink::strong);
  if (!piano.place.empty()) out += " · " + piano.place;
  out += "\n" + wrapped(shown(brief_words(b.brief)), "");
  for (const RegisterBrief& r : b.brief.registers) {
    out += "\n";
    bool first = true;
    for (const std::string& line : verdict_words(r)) {
      out += wrapped(
          first ? inked(shown(line), r.sheet.works() ? Ink::plain : Ink::doubt) : shown(line),
          first ? "" : "  ");
      first = false;
    }
    int n = 0;
    for (const Departure& d : r.departures)
      out +=
          wrapped(fmt::format("{} {}: {}", ++n, name_of(d.way), shown(departure_words(d))), "  ");
    for (const Unmet& u : r.unmet) out += wrapped(shown(unmet_words(u, r)), "  ");
  }
  if (!b.brief.works())
    out +=
        "\nTake one with: batten brief --accept 1 --because \"…\"   (a number for each register "
        "with\n    commas, 0 for the sheet; or cheapest)\n";
  out += "\n" + wrapped(b.profile_chosen
                            ? "Reckoned by the model with the action profile \"" + b.profile +
                                  "\" set for this piano; the maker's instructions come first."
                            : "Reckoned by the model with the stored profile \"" + b.profile +
                                  "\", a first guess: no action profile is set for this piano. "
                                  "The maker's instructions come first.",
                        "");
  return out;
}

int brief(const Common& common, const BriefWords& words) {
  return with_piano(common, [&](Desk& desk, const Piano& piano) {
    const BriefRequest request{words.where};
    if (!words.because.empty() && words.accept.empty())
      return fail(common, {"A reason is for what is accepted.", "No target was changed.",
                           "Say which way: batten brief --accept 1 --because \"…\"."});
    auto made = make_brief(desk, piano, request);
    if (!made) return fail(common, made.error());
    if (!words.map.empty()) {
      if (auto drawn = draw_brief(desk, piano, request, common.inches, words.map); !drawn)
        return fail(common, drawn.error());
      if (!common.json) say_aside("written: " + words.map);
    }
    if (words.accept.empty()) {
      say(common.json ? to_json(piano, *made) : brief_text(piano, *made, common.inches));
      return done;
    }
    auto kept = accept_departures(desk, piano, *made, words.accept, words.because);
    if (!kept) return fail(common, kept.error());
    if (common.json) {
      say(to_json(*kept));
      return done;
    }
    for (const Entry& e : *kept) say(wrapped("kept: " + entry_text(e.content), ""));
    return done;
  });
}

}  // namespace batten::cli

#include "cli/brief_commands.hpp"
#include "cli/desk_work.hpp"
#include "cli/history_text.hpp"
#include "cli/json.hpp"
#include "cli/terminal.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/brief/words.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <cctype>
#include <cmath>

namespace batten::cli {

namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json figures_json(const BriefFigures& f) {
  Json j{{"works", f.works()},
         {"blow_mm", number(f.point.blow)},
         {"dip_mm", number(f.point.dip)},
         {"let_off_mm", number(f.point.let_off)},
         {"drop_mm", number(f.point.drop)},
         {"escape_margin_mm", number(f.escape_margin)},
         {"aftertouch_mm", number(f.aftertouch)},
         {"check_distance_mm", number(f.check_distance)},
         {"jack_clearance_mm", number(f.jack_clearance)},
         {"ratio", number(f.ratio)},
         {"rest_scatter_mm", number(f.rest_scatter)},
         {"hindrance", f.hindrance}};
  j["strokes"] = Json::array();
  const char* efforts[] = {"soft", "middling", "loud"};
  for (std::size_t i = 0; i < f.strokes.size(); ++i)
    j["strokes"].push_back({{"effort", efforts[i]},
                            {"hammer_speed_m_s", number(f.strokes[i].hammer_speed)},
                            {"travel_time_ms", number(f.strokes[i].travel_time)},
                            {"bottom_less_string_ms", number(f.strokes[i].bottom_less_string)}});
  return j;
}

}  // namespace

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

std::string to_json(const Piano& piano, const PianoBrief& b) {
  Json j{{"piano", piano.name},
         {"profile", b.profile},
         {"profile_chosen", b.profile_chosen},
         {"works", b.brief.works()},
         {"words", brief_words(b.brief)}};
  j["registers"] = Json::array();
  for (const RegisterBrief& r : b.brief.registers) {
    Json one{{"register", r.where.name},
             {"note", note_name(r.where.key)},
             {"sheet", figures_json(r.sheet)},
             {"today", r.today ? figures_json(*r.today) : Json(nullptr)}};
    one["words"] = verdict_words(r);
    one["departures"] = Json::array();
    for (const Departure& d : r.departures)
      one["departures"].push_back({{"way", name_of(d.way)},
                                   {"words", departure_words(d)},
                                   {"blow_by_mm", number(d.by.blow)},
                                   {"dip_by_mm", number(d.by.dip)},
                                   {"let_off_by_mm", number(d.by.let_off)},
                                   {"drop_by_mm", number(d.by.drop)},
                                   {"cost", number(d.cost)},
                                   {"power_percent", number(d.price.power)},
                                   {"travel_ms", number(d.price.travel)},
                                   {"timing_ms", number(d.price.timing)},
                                   {"repetition_ms", number(d.price.repetition)},
                                   {"aftertouch_mm", number(d.price.aftertouch)},
                                   {"figures", figures_json(d.figures)}});
    one["unmet"] = Json::array();
    for (const Unmet& u : r.unmet)
      one["unmet"].push_back({{"need", need_kinds()[index_of(u.need)].code},
                              {"nearest_mm", number(u.nearest)},
                              {"by_mm", number(u.by)},
                              {"words", unmet_words(u, r)}});
    j["registers"].push_back(std::move(one));
  }
  return j.dump(2, ' ', false, Json::error_handler_t::replace);
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

#include "core/regulation/brief/words.hpp"

#include "core/action/words.hpp"
#include "core/quantities/text.hpp"

#include <algorithm>
#include <cmath>

namespace batten {

namespace {

std::string mm(double value, int decimals = 2) {
  return print_millimetres(value * millimetre, {.decimals = decimals});
}
std::string ms(double value) { return print_milliseconds(value * millisecond, {.decimals = 1}); }

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string in_sentence(std::string text) {
  if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z')
    text[0] = static_cast<char>(text[0] - 'A' + 'a');
  return text;
}

std::string joined(const std::vector<std::string>& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i)
    text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
  return text;
}

std::string place(const Register& where) {
  return capital(where.name) + " (" + note_name(where.key) + ")";
}

// "1.2 ms after the string"
std::string bottom_words(double bottom_less_string) {
  if (std::abs(bottom_less_string) < 0.05) return "together with the string";
  return ms(std::abs(bottom_less_string)) +
         (bottom_less_string > 0 ? " after the string" : " before the string");
}

std::string miss_words(const Miss& m, const Band& band) {
  const auto& kind = need_kinds()[index_of(m.need)];
  const bool low = m.value < band.low;
  return std::string(kind.name) + " " + mm(m.value) + ", " + mm(m.by) +
         (low ? " under the least " : " over the most ") + mm(low ? band.low : band.high);
}

// Of the hammer that does not let go, a first sentence; empty if it does.
std::string escape_words(const BriefFigures& f) {
  if (f.read && std::isnan(f.aftertouch) && f.escape_margin <= 0)
    return "the key bottoms " + mm(-f.escape_margin) +
           " before the hammer lets go, so the jack cannot trip";
  return {};
}

void add_timing(const BriefFigures& f, std::vector<std::string>& out) {
  constexpr const char* efforts[] = {" played softly", " at a middling stroke", " loud"};
  std::vector<std::string> parts;
  for (std::size_t e = 0; e < std::size(efforts); ++e)
    if (!std::isnan(f.strokes[e].bottom_less_string))
      parts.push_back(bottom_words(f.strokes[e].bottom_less_string) + efforts[e]);
  if (f.read && !parts.empty()) out.push_back("Key bottom comes " + joined(parts) + ".");
}

void add_platform(const BriefFigures& f, const Band& band, std::vector<std::string>& out) {
  if (!f.read || std::isnan(f.rest_scatter)) return;
  // A well set jack loses about 0.15 mm; with half a millimetre more the lever stands too high
  // (common practice, no source).
  constexpr double most_lost = 0.65;
  const bool repeats = std::abs(f.rest_scatter) <= band.high, lost = f.lost_motion > most_lost;
  std::string text = "At rest the repetition lever carries " +
                     print_number(100 * f.lever_share, {.decimals = 0}) +
                     " % of the hammer, the jack has " + mm(f.jack_clearance) +
                     " clearance, and after a hard blow the hammer comes back ";
  text += std::abs(f.rest_scatter) < 0.005 ? "to the same place"
                                           : "to within " + mm(std::abs(f.rest_scatter));
  text += !repeats ? ": too loose to set a line on." : lost ? "." : ": firm.";
  if (lost)
    text += " The jack takes the hammer only after " + mm(f.lost_motion) +
            " of key travel: the lever stands too high.";
  if (f.spring_grade < 1) text += " The spring does not lift the eased hammer.";
  if (f.spring_grade > 3) text += " The spring throws the eased hammer up.";
  out.push_back(std::move(text));
}

// A change in words, "0.30 mm deeper"; nothing for none.
void add_change(double by, const char* more, const char* less, const char* what, double now,
                std::vector<std::string>& parts) {
  if (std::abs(by) < 1e-9) return;
  parts.push_back(std::string(what) + " " + mm(std::abs(by)) + " " + (by > 0 ? more : less) + " (" +
                  mm(now) + ")");
}

std::string price_words(const Price& p) {
  std::vector<std::string> parts;
  const auto say = [&](double value, double least, const std::string& amount, const char* more,
                       const char* less) {
    if (std::isfinite(value) && std::abs(value) >= least)
      parts.push_back(amount + (value > 0 ? more : less));
  };
  say(p.power, 0.5, print_number(std::abs(p.power), {.decimals = 0}) + " %", " more power",
      " less power");
  say(p.travel, 0.1, ms(std::abs(p.travel)), " slower from key to string",
      " quicker from key to string");
  say(p.timing, 0.1, "key bottom " + ms(std::abs(p.timing)), " later against the string",
      " earlier against the string");
  say(p.repetition, 1, "repetition " + ms(std::abs(p.repetition)), " slower", " quicker");
  if (parts.empty()) return "it costs nothing a finger would notice";
  return joined(parts);
}

}  // namespace

std::string_view code_of(Way way) {
  switch (way) {
    case Way::dip:
      return "dip";
    case Way::blow:
      return "blow";
    case Way::let_off:
      return "let-off";
    case Way::drop:
      return "drop";
    case Way::least:
      return "least";
  }
  return {};
}

std::string_view name_of(Way way) {
  switch (way) {
    case Way::dip:
      return "dip only";
    case Way::blow:
      return "blow only";
    case Way::let_off:
      return "let-off only";
    case Way::drop:
      return "drop only";
    case Way::least:
      return "a little of each";
  }
  return {};
}

std::vector<std::string> verdict_words(const RegisterBrief& brief) {
  const BriefFigures& f = brief.sheet;
  std::vector<std::string> out;
  const auto band = [&](Need need) { return brief.bands[index_of(need)]; };
  std::string head = place(brief.where) + " ";
  if (f.works()) {
    head += "works at the sheet's figures: blow " + mm(f.point.blow, 1) + ", dip " +
            mm(f.point.dip) + ", let-off " + mm(f.point.let_off) + " leave " + mm(f.aftertouch) +
            " aftertouch.";
  } else {
    head += "does not work at the sheet's figures: ";
    std::vector<std::string> wrong;
    if (const std::string escape = escape_words(f); !escape.empty()) {
      wrong.push_back(escape);
      for (const Miss& m : f.misses)
        if (m.need != Need::aftertouch) wrong.push_back(miss_words(m, band(m.need)));
    } else {
      for (const Miss& m : f.misses) wrong.push_back(miss_words(m, band(m.need)));
    }
    for (const action::Fault fault : f.faults)
      if (fault != action::Fault::no_escapement) wrong.emplace_back(words_of(fault).name);
    if (wrong.empty()) {
      head += f.hindrance.empty() ? "it cannot be set." : in_sentence(f.hindrance);
    } else {
      head += joined(wrong) + ".";
    }
  }
  out.push_back(std::move(head));
  add_timing(f, out);
  add_platform(f, band(Need::rest_scatter), out);
  return out;
}

std::string departure_words(const Departure& d) {
  const BriefPoint& p = d.figures.point;
  std::vector<std::string> parts;
  add_change(d.by.blow, "longer", "shorter", "blow", p.blow, parts);
  add_change(d.by.dip, "deeper", "shallower", "dip", p.dip, parts);
  add_change(d.by.let_off, "earlier", "later", "let-off", p.let_off, parts);
  add_change(d.by.drop, "more", "less", "drop", p.drop, parts);
  return capital(joined(parts)) + ": aftertouch " + mm(d.figures.aftertouch) + "; " +
         price_words(d.price) + ".";
}

std::string unmet_words(const Unmet& u, const RegisterBrief& brief) {
  const auto& kind = need_kinds()[index_of(u.need)];
  const Band& band = brief.bands[index_of(u.need)];
  const std::string name(kind.name);
  if (std::isnan(u.nearest) || std::isnan(u.by)) {
    return "The need that cannot be met is " + name + " within " + mm(band.low) + " to " +
           mm(band.high) +
           (brief.sheet.hindrance.empty() ? "." : ": " + in_sentence(brief.sheet.hindrance));
  }
  std::string text = "The need that cannot be met is " + name + ": ";
  if (u.need == Need::aftertouch) {
    if (u.nearest <= 0) {
      text += "even with blow " + mm(u.at.blow, 1) + ", dip " + mm(u.at.dip) + " and let-off " +
              mm(u.at.let_off) + " the key bottoms " + mm(-u.nearest) +
              " before the hammer lets go; it is " + mm(u.by) + " short of the least " +
              mm(band.low) + ".";
      return text;
    }
    const bool thin = u.nearest < band.low;
    return text + "with blow " + mm(u.at.blow, 1) + ", dip " + mm(u.at.dip) + " and let-off " +
           mm(u.at.let_off) + " it is " + mm(u.nearest) + ", still " + mm(u.by) +
           (thin ? " short of the least " + mm(band.low) : " over the most " + mm(band.high)) + ".";
  }
  return text + "the nearest that can be had is " + mm(u.nearest) + ", " + mm(u.by) +
         " outside what is asked for.";
}

std::string brief_words(const Brief& brief) {
  std::vector<std::string> fine, give_way, stuck;
  for (const RegisterBrief& r : brief.registers) {
    const std::string name = r.where.name + " (" + note_name(r.where.key) + ")";
    (r.sheet.works() ? fine : r.departures.empty() ? stuck : give_way).push_back(name);
  }
  if (give_way.empty() && stuck.empty())
    return "This piano can be what the sheet says: every register tried lets go inside its dip and "
           "holds every need.";
  std::string text;
  if (!fine.empty()) text += "As the sheet has it: " + joined(fine) + ". ";
  if (!give_way.empty())
    text += "Something must give way at " + joined(give_way) + ": choose one of the ways below. ";
  if (!stuck.empty())
    text += "Within the bands nothing works at " + joined(stuck) +
            ": widen the need that is named, or look at the action itself.";
  while (text.ends_with(' ')) text.pop_back();
  return text;
}

}  // namespace batten

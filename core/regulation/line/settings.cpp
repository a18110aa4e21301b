#include "core/keyboard/samples.hpp"
#include "core/quantities/text.hpp"
#include "core/regulation/line/line.hpp"

#include <algorithm>
#include <cmath>

namespace batten {

namespace {

std::string_view trim(std::string_view s) {
  const auto from = s.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return s.substr(from, s.find_last_not_of(" \t") - from + 1);
}

// Pieces between `mark`s, blanks around them dropped; an empty text has none.
std::vector<std::string_view> split(std::string_view text, char mark) {
  std::vector<std::string_view> pieces;
  if (trim(text).empty()) return pieces;
  for (;;) {
    const auto at = text.find(mark);
    pieces.push_back(trim(text.substr(0, at)));
    if (at == std::string_view::npos) return pieces;
    text.remove_prefix(at + 1);
  }
}

Result<Length> parse_blow(std::string_view text) {
  auto blow = parse_length(text);
  if (!blow) return blow;
  if (*blow < least_blow || *blow > most_blow)
    return problem("A blow of " + print_millimetres(*blow, {.decimals = 1}) +
                       " cannot be aimed at: too short to be let off or too long for power.",
                   "Choose one from 35 to 60 mm; makers' sheets lie between 44 and 48.");
  return blow;
}

// "46 to 45" or "46"
Result<BlowTarget> parse_taper(std::string_view text) {
  const auto at = text.find(" to ");
  auto first = parse_blow(trim(text.substr(0, at)));
  if (!first) return tl::unexpected(first.error());
  if (at == std::string_view::npos) return BlowTarget{*first, *first};
  auto last = parse_blow(trim(text.substr(at + 4)));
  if (!last) return tl::unexpected(last.error());
  return BlowTarget{*first, *last};
}

// One taper over the compass, cut at the sections' ends.
std::vector<BlowTarget> spread(BlowTarget whole, const std::vector<Section>& sections) {
  const double low = sections.front().first.number;
  const double range = std::max(1.0, sections.back().last.number - low);
  const auto at = [&](Key k) {
    return whole.at_first + (whole.at_last - whole.at_first) * ((k.number - low) / range);
  };
  std::vector<BlowTarget> list;
  for (const Section& s : sections) list.push_back({at(s.first), at(s.last)});
  return list;
}

Result<void> set_blow(Compass, const std::string& value, LineSettings& out) {
  std::vector<BlowTarget> list;
  for (std::string_view piece : split(value, ';')) {
    auto taper = parse_taper(piece);
    if (!taper) return tl::unexpected(taper.error());
    list.push_back(*taper);
  }
  if (list.size() == 1) list = spread(list[0], out.sections);
  if (list.size() != out.sections.size())
    return problem("There are " + std::to_string(out.sections.size()) + " sections but " +
                       std::to_string(list.size()) + " blow targets.",
                   "Give one for all, or one for each section with ';' between.");
  out.blow = list;
  return {};
}

Result<std::vector<Key>> parse_keys(Compass compass, const std::string& value) {
  std::string text = value;
  std::replace(text.begin(), text.end(), ',', ' ');
  std::vector<Key> keys;
  for (std::string_view piece : split(text, ' ')) {
    if (piece.empty()) continue;
    auto key = parse_key(piece);
    if (!key) return tl::unexpected(key.error());
    if (!compass.contains(*key))
      return problem(note_name(*key) + " is not on this keyboard.", "Leave it out.");
    keys.push_back(*key);
  }
  std::sort(keys.begin(), keys.end());
  keys.erase(std::unique(keys.begin(), keys.end()), keys.end());
  return keys;
}

Result<void> set_samples(Compass compass, const std::string& value, LineSettings& out) {
  if (value == "plain" || value == "fuller") {
    out.samples =
        value == "plain" ? propose_samples(out.sections) : propose_fuller_samples(out.sections);
    return {};
  }
  auto keys = parse_keys(compass, value);
  if (!keys) return tl::unexpected(keys.error());
  if (keys->empty())
    return problem("No samples were named.", "Name notes, or \"plain\", or \"fuller\".");
  out.samples = *keys;
  return {};
}

Result<void> set_datum(Compass, const std::string& value, LineSettings& out) {
  if (value != "strings" && value != "bench")
    return problem(
        "The hammers' datum \"" + value + "\" is not known.",
        "Say \"strings\" when hammers are read over the strings' datum, \"bench\" when not.");
  out.hammers_on_bench = value == "bench";
  return {};
}

Result<void> set_crown_per_turn(Compass, const std::string& value, LineSettings& out) {
  // ';' leaves commas free to be decimal marks.
  const auto pieces = split(value, value.find(';') == std::string::npos ? ',' : ';');
  if (pieces.size() != 2)
    return problem("\"" + value + "\" is not a rise per turn with its uncertainty.",
                   "Write two lengths, as in \"9 mm, 1.5 mm\".");
  auto mean = parse_length(pieces[0]);
  auto sd = parse_length(pieces[1]);
  if (!mean) return tl::unexpected(mean.error());
  if (!sd) return tl::unexpected(sd.error());
  if (mean->in(millimetre) < 1 || mean->in(millimetre) > 40 || sd->si() <= 0 || *sd > *mean * 0.5)
    return problem(
        "A crown cannot rise so per turn of a capstan: " + value + ".",
        "The rise lies between 1 and 40 mm, its uncertainty above 0 and below half of it.");
  out.crown_per_turn = *mean / turn;
  out.crown_per_turn_sd = *sd / turn;
  return {};
}

Result<void> set_turn_step(Compass, const std::string& value, LineSettings& out) {
  auto step = parse_turns(value);
  if (!step) return tl::unexpected(step.error());
  const double parts = step->si() > 0 ? 1 / step->si() : 0;
  if (parts < 1 || parts > 256 || std::abs(parts - std::round(parts)) > 1e-9)
    return problem("\"" + value + "\" is not a part of a turn.", "Write 1/64, 1/32, 1/16 …");
  out.turn_denominator = static_cast<int>(std::lround(parts));
  return {};
}

Result<void> set_sureness(Compass, const std::string& value, LineSettings& out) {
  auto p = parse_number(value);
  if (!p) return tl::unexpected(p.error());
  if (!(*p >= 0.5 && *p < 1))
    return problem("A direction cannot be \"" + value + "\" sure.",
                   "Write a number from 0.5 to 0.99.");
  out.direction_sureness = *p;
  return {};
}

Result<void> set_out_of_service(Compass compass, const std::string& value, LineSettings& out) {
  auto keys = parse_keys(compass, value);
  if (!keys) return tl::unexpected(keys.error());
  out.out_of_service = *keys;
  return {};
}

Result<void> set_undamped_from(Compass compass, const std::string& value, LineSettings& out) {
  auto keys = parse_keys(compass, value);
  if (!keys) return tl::unexpected(keys.error());
  if (keys->size() != 1)
    return problem("\"" + value + "\" is not one note.", "Name the lowest note without a damper.");
  out.undamped_from = keys->front();
  return {};
}

struct Named {
  const char* name;
  Result<void> (*set)(Compass, const std::string&, LineSettings&);
};
constexpr Named known_settings[] = {
    {"blow-target", set_blow},
    {"samples", set_samples},
    {"hammer-datum", set_datum},
    {"crown-per-turn", set_crown_per_turn},
    {"turn-step", set_turn_step},
    {"direction-sureness", set_sureness},
    {"out-of-service", set_out_of_service},
    {"undamped-from", set_undamped_from},
};

tl::unexpected<Problem> about(const std::string& name, Problem p) {
  p.happened = "Setting " + name + ": " + p.happened;
  return tl::unexpected(std::move(p));
}

LineSettings defaults(std::vector<Section> sections) {
  LineSettings s;
  s.sections = std::move(sections);
  s.blow = spread({46 * millimetre, 45 * millimetre}, s.sections);
  s.samples = propose_samples(s.sections);
  return s;
}

}  // namespace

Result<LineSettings> line_settings(Compass compass,
                                   const std::map<std::string, std::string>& on_record) {
  const auto layout = on_record.find("sections");
  if (layout == on_record.end())
    return problem(
        "The sections of this piano are not on record, and a line must not be drawn over a break.",
        "Set them first: the last note of each section and what ends it, as in "
        "\"E2 bridge, A#4 strut, D6 strut\".");
  auto sections = parse_sections(layout->second, compass);
  if (!sections) return about("sections", sections.error());
  LineSettings settings = defaults(*sections);
  for (const Named& s : known_settings) {
    const auto it = on_record.find(s.name);
    if (it == on_record.end()) continue;
    if (auto done = s.set(compass, it->second, settings); !done) return about(s.name, done.error());
  }
  return settings;
}

Result<void> check_line_setting(Compass compass, const std::vector<Section>& sections,
                                const std::string& name, const std::string& value) {
  if (name == "sections") {
    auto parsed = parse_sections(value, compass);
    if (!parsed) return about(name, parsed.error());
    return {};
  }
  std::string known = "sections";
  for (const Named& s : known_settings) {
    known += std::string(", ") + s.name;
    if (name != s.name) continue;
    LineSettings scratch = defaults(sections);
    if (auto done = s.set(compass, value, scratch); !done) return about(name, done.error());
    return {};
  }
  return problem("There is no setting \"" + name + "\".", "There are: " + known + ".");
}

}  // namespace batten

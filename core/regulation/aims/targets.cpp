#include "core/regulation/aims/targets.hpp"

#include "core/quantities/text.hpp"

#include <algorithm>
#include <string_view>

namespace batten {
namespace {

constexpr std::string_view suffix = "-target";

std::string_view trim(std::string_view s) {
  const auto from = s.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return s.substr(from, s.find_last_not_of(" \t") - from + 1);
}

// Where a reading's targets are kept: naturals, sharps or both.
struct Place {
  Aim aim;
  bool naturals, sharps;
};

std::optional<Place> place_of(const std::string& name) {
  if (!name.ends_with(suffix)) return std::nullopt;
  const auto reading =
      reading_by_code(std::string_view(name).substr(0, name.size() - suffix.size()));
  if (!reading || *reading == Reading::hammer_height || *reading == Reading::jack_wink)
    return std::nullopt;
  const auto aim = aim_of(*reading);
  if (!aim) return std::nullopt;
  const bool of_sharps = *reading == Reading::sharps_height || *reading == Reading::sharp_dip;
  const bool own_sharps = *aim == Aim::key_height || *aim == Aim::dip;
  return Place{*aim, !of_sharps, of_sharps || !own_sharps};
}

Result<double> parse_value(const ReadingKind& kind, std::string_view text) {
  double value = 0;
  if (kind.unit == ReadingUnit::millimetre) {
    auto length = parse_length(text);
    if (!length) return tl::unexpected(length.error());
    value = length->in(millimetre);
  } else {
    auto number = parse_number(text);
    if (!number) return tl::unexpected(number.error());
    value = *number;
  }
  if (!(value >= kind.possible_low && value <= kind.possible_high))
    return problem(
        "A " + std::string(kind.name) + " of " + std::string(text) + " cannot be aimed at.",
        "It lies between " + print_number(kind.possible_low) + " and " +
            print_number(kind.possible_high) + " " + std::string(unit_symbol(kind.unit)) + ".");
  return value;
}

Result<Taper> parse_taper(const ReadingKind& kind, std::string_view text) {
  const auto at = text.find(" to ");
  auto first = parse_value(kind, trim(text.substr(0, at)));
  if (!first) return tl::unexpected(first.error());
  if (at == std::string_view::npos) return Taper{*first, *first};
  auto last = parse_value(kind, trim(text.substr(at + 4)));
  if (!last) return tl::unexpected(last.error());
  return Taper{*first, *last};
}

// One taper over the compass, cut at the sections' ends.
std::vector<Taper> spread(Taper whole, const std::vector<Section>& sections) {
  const double low = sections.front().first.number;
  const double range = std::max(1.0, sections.back().last.number - low);
  const auto at = [&](Key k) {
    return whole.at_first + (whole.at_last - whole.at_first) * ((k.number - low) / range);
  };
  std::vector<Taper> list;
  for (const Section& s : sections) list.push_back({at(s.first), at(s.last)});
  return list;
}

Result<std::vector<Taper>> parse_tapers(const ReadingKind& kind, std::string_view text,
                                        const std::vector<Section>& sections) {
  std::vector<Taper> list;
  for (;;) {
    const auto end = text.find(';');
    auto taper = parse_taper(kind, trim(text.substr(0, end)));
    if (!taper) return tl::unexpected(taper.error());
    list.push_back(*taper);
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  if (list.size() == 1) return spread(list[0], sections);
  if (list.size() != sections.size())
    return problem("There are " + std::to_string(sections.size()) + " sections but " +
                       std::to_string(list.size()) + " targets.",
                   "Give one for all, or one for each section with ';' between.");
  return list;
}

struct Usual {
  Aim aim;
  Taper naturals, sharps;
};
constexpr Usual usual_targets[] = {
    {Aim::blow, {46, 45}, {46, 45}},
    {Aim::dip, {10, 10}, {9.7, 9.7}},
    {Aim::let_off, {2, 1.4}, {2, 1.4}},
    {Aim::drop, {1.5, 1.5}, {1.5, 1.5}},
    {Aim::check_distance, {14, 14}, {14, 14}},
    {Aim::jack_clearance, {0.15, 0.15}, {0.15, 0.15}},
    {Aim::jack_position, {0, 0}, {0, 0}},
    {Aim::spring_rise, {2, 2}, {2, 2}},
    {Aim::damper_start, {0.5, 0.5}, {0.5, 0.5}},
};

Targets usual(const std::vector<Section>& sections) {
  Targets t;
  t.sections = sections;
  for (const Usual& u : usual_targets) {
    t.naturals[index_of(u.aim)] = spread(u.naturals, sections);
    t.sharps[index_of(u.aim)] = spread(u.sharps, sections);
  }
  return t;
}

tl::unexpected<Problem> about(const std::string& name, Problem p) {
  p.happened = "Setting " + name + ": " + p.happened;
  return tl::unexpected(std::move(p));
}

Result<void> set_target(const std::string& name, const std::string& value, Place place,
                        Targets& targets) {
  const auto reading =
      reading_by_code(std::string_view(name).substr(0, name.size() - suffix.size()));
  auto tapers = parse_tapers(kind_of(*reading), value, targets.sections);
  if (!tapers) return about(name, tapers.error());
  if (place.naturals) targets.naturals[index_of(place.aim)] = *tapers;
  if (place.sharps) targets.sharps[index_of(place.aim)] = *tapers;
  return {};
}

}  // namespace

std::optional<double> Targets::at(Aim aim, Key key) const {
  const auto& list = (is_sharp(key) ? sharps : naturals)[index_of(aim)];
  const int s = section_of(sections, key);
  if (list.empty() || s < 0) return std::nullopt;
  const Section& section = sections[static_cast<std::size_t>(s)];
  const Taper& t = list[static_cast<std::size_t>(s)];
  const double range = std::max(1, section.count() - 1);
  return t.at_first + (t.at_last - t.at_first) * ((key.number - section.first.number) / range);
}

Result<Targets> targets_on_record(Compass, const std::vector<Section>& sections,
                                  const std::map<std::string, std::string>& on_record) {
  Targets targets = usual(sections);
  for (const auto& [name, value] : on_record) {
    const auto place = place_of(name);
    if (!place) continue;
    if (auto done = set_target(name, value, *place, targets); !done)
      return tl::unexpected(done.error());
  }
  return targets;
}

std::string print_tapers(Reading reading, const std::vector<Taper>& tapers) {
  const bool length = kind_of(reading).unit == ReadingUnit::millimetre;
  std::string text;
  for (const Taper& t : tapers) {
    if (!text.empty()) text += "; ";
    text += print_number(t.at_first);
    if (t.at_last != t.at_first) text += " to " + print_number(t.at_last);
    if (length) text += " mm";
  }
  return text;
}

Result<void> check_target_setting(Compass compass, const std::vector<Section>& sections,
                                  const std::string& name, const std::string& value) {
  const auto place = place_of(name);
  if (!place)
    return problem("There is no target \"" + name + "\".",
                   "Write a reading's code and -target, as in dip-target or let-off-target.");
  Targets targets =
      usual(sections.empty() ? std::vector<Section>{{compass.lowest, compass.highest}} : sections);
  return set_target(name, value, *place, targets);
}

bool is_target_setting(const std::string& name) { return place_of(name).has_value(); }

}  // namespace batten

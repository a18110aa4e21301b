#include "core/keyboard/compass.hpp"

#include <fmt/format.h>

#include <array>
#include <cstddef>
#include <optional>

namespace batten {
namespace {

constexpr int fewest_keys = 73;
constexpr int most_keys = 97;
constexpr int fewest_notes_in_section = 3;

std::string_view trimmed(std::string_view text) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

std::optional<BreakKind> break_kind(std::string_view word) {
  if (word == "bridge") return BreakKind::bridge;
  if (word == "strut") return BreakKind::strut;
  return std::nullopt;
}

// Up to the next separator, which is consumed with it.
std::string_view take_item(std::string_view& text) {
  const std::size_t end = text.find_first_of(",;");
  const std::string_view item = text.substr(0, end);
  text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  return trimmed(item);
}

struct Break {
  Key last;
  BreakKind kind;
};

Result<Break> parse_break(std::string_view item) {
  constexpr std::string_view todo =
      "Write the last note of each section and what ends it, such as “E2 bridge, A#4 strut”.";
  const std::size_t gap = item.find_first_of(" \t");
  if (gap == std::string_view::npos) {
    return problem(
        fmt::format("“{}” does not say what ends the section there.", item.substr(0, 40)),
        std::string(todo));
  }
  const Result<Key> key = parse_key(item.substr(0, gap));
  if (!key) return tl::unexpected(key.error());
  const std::string_view word = trimmed(item.substr(gap));
  const std::optional<BreakKind> kind = break_kind(word);
  if (!kind) {
    return problem(
        fmt::format("“{}” is no kind of break; expected strut or bridge.", word.substr(0, 40)),
        std::string(todo));
  }
  return Break{*key, *kind};
}

// Naturals from C0 up to and including the natural at or below the key, less one.
int natural_index(Key key) {
  constexpr std::array<int, 12> naturals_below_or_at{0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6};
  return 7 * octave(key) + naturals_below_or_at[static_cast<std::size_t>(pitch_class(key))];
}

// How far a sharp's centre lies from the line between its two naturals. Behind the naturals' heads
// C to E are five tails in three natural widths and F to B seven tails in four; with the tails of a
// group equally wide, the i-th of them is centred (i + 1/2) tail widths from the group's left edge.
Length sharp_shift(int pitch) {
  constexpr Length tail_c_to_e = 3 * natural_width / 5;
  constexpr Length tail_f_to_b = 4 * natural_width / 7;
  switch (pitch) {
    case 1:
      return 1.5 * tail_c_to_e - natural_width;
    case 3:
      return 3.5 * tail_c_to_e - 2 * natural_width;
    case 6:
      return 1.5 * tail_f_to_b - natural_width;
    case 8:
      return 3.5 * tail_f_to_b - 2 * natural_width;
    case 10:
      return 5.5 * tail_f_to_b - 3 * natural_width;
    default:
      return Length{};
  }
}

}  // namespace

Result<Compass> make_compass(Key lowest, Key highest) {
  const std::string span = fmt::format("{} to {}", note_name(lowest), note_name(highest));
  if (lowest < lowest_possible_key || highest > highest_possible_key) {
    return problem(fmt::format("{} reaches beyond any keyboard.", span),
                   "Give a lowest and a highest note between C0 and G8.");
  }
  if (highest < lowest) {
    return problem(fmt::format("{} runs downwards.", span), "Give the lowest note first.");
  }
  const Compass compass{lowest, highest};
  if (compass.count() < fewest_keys || compass.count() > most_keys) {
    return problem(fmt::format("{} is {} keys; a keyboard here has {} to {}.", span,
                               compass.count(), fewest_keys, most_keys),
                   "Look at the outermost keys again; a full keyboard is A0 to C8.");
  }
  if (is_sharp(lowest) || is_sharp(highest)) {
    return problem(fmt::format("{} ends on a sharp; keyboards end on naturals.", span),
                   "Look at the outermost keys again; a full keyboard is A0 to C8.");
  }
  return compass;
}

Result<std::vector<Section>> parse_sections(std::string_view text, Compass compass) {
  std::vector<Section> sections;
  Key first = compass.lowest;
  std::string_view rest = trimmed(text);
  while (!rest.empty()) {
    const Result<Break> found = parse_break(take_item(rest));
    if (!found) return tl::unexpected(found.error());
    const Section section{first, found->last, found->kind};
    if (!compass.contains(section.last)) {
      return problem(fmt::format("{} is not on this keyboard, which runs from {} to {}.",
                                 note_name(section.last), note_name(compass.lowest),
                                 note_name(compass.highest)),
                     "Give breaks inside the keyboard.");
    }
    if (section.last < first) {
      return problem(fmt::format("The break after {} does not lie above the one before it.",
                                 note_name(section.last)),
                     "Give the breaks from the bass up.");
    }
    sections.push_back(section);
    first = Key{section.last.number + 1};
  }
  sections.push_back(Section{first, compass.highest, BreakKind::none});
  for (const Section& section : sections) {
    if (section.count() < fewest_notes_in_section) {
      const int notes = section.count();
      return problem(
          notes <= 0 ? fmt::format("The break after {} leaves no section above it.",
                                   note_name(compass.highest))
                     : fmt::format("The section from {} to {} has {}; a line needs at least {}.",
                                   note_name(section.first), note_name(section.last),
                                   notes == 1 ? "one note" : fmt::format("{} notes", notes),
                                   fewest_notes_in_section),
          "Look again where the strings change bridge or pass a strut.");
    }
  }
  return sections;
}

std::string print_sections(const std::vector<Section>& sections) {
  std::string text;
  for (const Section& section : sections) {
    if (section.above == BreakKind::none) continue;
    if (!text.empty()) text += ", ";
    text += fmt::format("{} {}", note_name(section.last),
                        section.above == BreakKind::bridge ? "bridge" : "strut");
  }
  return text;
}

int section_of(const std::vector<Section>& sections, Key key) {
  for (std::size_t i = 0; i < sections.size(); ++i) {
    if (sections[i].contains(key)) return static_cast<int>(i);
  }
  return -1;
}

Length key_left(Compass compass, Key key) {
  const int naturals = natural_index(key) - natural_index(compass.lowest);
  if (is_natural(key)) return naturals * natural_width;
  return (naturals + 1) * natural_width + sharp_shift(pitch_class(key)) - sharp_width / 2;
}

Length key_width(Key key) { return is_sharp(key) ? sharp_width : natural_width; }

Length keyboard_width(Compass compass) {
  return (natural_index(compass.highest) - natural_index(compass.lowest) + 1) * natural_width;
}

}  // namespace batten

#include "core/regulation/catalogue/preparation.hpp"

#include "core/regulation/catalogue/code.hpp"

#include <array>
#include <cassert>
#include <cstddef>

namespace batten {
namespace {

using enum PreparationItem;

// Common practice, no source.
constexpr std::array kinds{
    PreparationKind{screws_tight, "screws-tight", "screws tight",
                    "Try every flange, rail and bracket screw with the driver; none should turn.",
                    "A loose flange lets its hammer come to rest somewhere else after each blow.",
                    Scope::per_note, std::nullopt},
    PreparationKind{key_frame_bedded, "key-frame-bedded", "key frame bedded",
                    "Knock along the rails with the action in place and listen for a rattle; try "
                    "the glides with the shift pedal down as well.",
                    "A frame off its bed sinks under a firm blow and takes every height with it.",
                    Scope::per_piano, std::nullopt},
    PreparationKind{keys_square_and_easy, "keys-square-and-easy", "keys square and easy",
                    "Lift each front a little and let go; it should fall freely and stand upright, "
                    "evenly spaced between its neighbours.",
                    "A key that sticks or leans does not return to the same height, and its hammer "
                    "does not either.",
                    Scope::per_note, std::nullopt},
    PreparationKind{centres_free_and_firm, "centres-free-and-firm", "centres free and firm",
                    "Swing each hammer and count a few even swings, then try it sideways for play.",
                    "A tight centre holds the hammer above its place; a loose one lets it wander "
                    "off the strings.",
                    Scope::per_note, Reading::hammer_centre_friction},
    PreparationKind{hammers_spaced, "hammers-spaced", "hammers spaced to the strings",
                    "Raise groups of hammers to the strings and look whether each meets all "
                    "strings of its unison in the middle.",
                    "Moving a hammer sideways later changes its height, so the line would be set "
                    "twice.",
                    Scope::per_note, Reading::hammer_spacing},
    PreparationKind{hammers_travelling, "hammers-travelling", "hammers travelling straight",
                    "Raise a few hammers together, slowly, and watch whether any gap between them "
                    "opens or closes.",
                    "Paper put under a flange later to cure a drift tilts the hammer and moves its "
                    "crown.",
                    Scope::per_note, Reading::hammer_travel},
    PreparationKind{hammers_square, "hammers-square", "hammers square",
                    "Look along the heads from the front and from above, and compare each with a "
                    "small square.",
                    "A leaning head shows a corner instead of its crown, and the gauge reads the "
                    "corner.",
                    Scope::per_note, Reading::hammer_squareness},
    PreparationKind{
        strings_level, "strings-level", "strings level in their unisons",
        "Lift the hammer lightly to the strings, pluck each, and hear whether one rings "
        "on.",
        "With one string off level, blow and let-off are right for one string and "
        "wrong for the others.",
        Scope::per_note, Reading::unison_level},
    PreparationKind{felts_sound, "felts-sound", "felts and leathers sound",
                    "Look at knuckles, wippen cushions, capstan felts and punchings for grooves, "
                    "moth and hard spots.",
                    "Worn cloth gives way unevenly, so a line set on it is gone within days.",
                    Scope::per_note, std::nullopt},
    PreparationKind{rest_cushions_even, "rest-cushions-even", "rest cushions even",
                    "Sight along the rest rail or cushions, and see that no shank lies on them at "
                    "rest.",
                    "A shank that lies on its cushion does not follow its capstan when that is "
                    "lowered.",
                    Scope::per_note, Reading::shank_gap},
};

static_assert(kinds.size() == static_cast<std::size_t>(rest_cushions_even) + 1,
              "one row for every item");

constexpr std::array<std::string_view, 4> state_codes{"wanting", "found", "done", "waived"};

}  // namespace

std::span<const PreparationKind> preparation_kinds() { return kinds; }

const PreparationKind& kind_of(PreparationItem item) {
  const auto index = static_cast<std::size_t>(item);
  assert(index < kinds.size());
  return kinds[index];
}

std::optional<PreparationItem> preparation_by_code(std::string_view code) {
  for (const PreparationKind& kind : kinds) {
    if (is_code(code, kind.code)) return kind.id;
  }
  return std::nullopt;
}

std::string_view state_code(PreparationState state) {
  const auto index = static_cast<std::size_t>(state);
  assert(index < state_codes.size());
  return state_codes[index];
}

std::optional<PreparationState> preparation_state_by_code(std::string_view code) {
  for (std::size_t i = 0; i < state_codes.size(); ++i) {
    if (is_code(code, state_codes[i])) return static_cast<PreparationState>(i);
  }
  return std::nullopt;
}

}  // namespace batten

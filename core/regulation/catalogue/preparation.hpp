// The platform: what must be in order, or knowingly left, before a line is set.
#pragma once

#include "core/regulation/catalogue/readings.hpp"

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>

namespace batten {

enum class PreparationItem : std::uint8_t {
  screws_tight,
  key_frame_bedded,
  keys_square_and_easy,
  centres_free_and_firm,
  hammers_spaced,
  hammers_travelling,
  hammers_square,
  strings_level,
  felts_sound,
  rest_cushions_even,
};

// What is on record about an item.
enum class PreparationState : std::uint8_t {
  wanting,  // looked at, not in order: keeps the gate shut
  found,    // looked at, found in order
  done,     // put in order
  waived,   // left as it is, knowingly; the reason is on record
};

struct PreparationKind {
  PreparationItem id;
  std::string_view code;  // "key-frame-bedded"
  std::string_view name;  // "key frame bedded"
  std::string_view how;   // one sentence: how to find out
  std::string_view why;   // one sentence: what goes wrong with the line when it is not
  Scope scope;            // per_note: may be said of single notes as well as of all
  // The number it is judged by, where there is one: its usual span or tolerance is "in order".
  std::optional<Reading> reading;
};

std::span<const PreparationKind> preparation_kinds();
const PreparationKind& kind_of(PreparationItem item);
// By code; blanks, '_' and letter case forgiven. Nothing if unknown.
std::optional<PreparationItem> preparation_by_code(std::string_view code);
std::string_view state_code(PreparationState state);  // "wanting", "found", "done", "waived"
std::optional<PreparationState> preparation_state_by_code(std::string_view code);

}  // namespace batten

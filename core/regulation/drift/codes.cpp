#include "core/regulation/drift/outlook.hpp"

#include <cassert>

namespace batten {

namespace {

constexpr std::array<std::string_view, 6> spells{"dry",      "wet",       "heavy-use",
                                                 "new-felt", "transport", "new-hammers"};

}  // namespace

std::string_view code_of(DriftCause cause) {
  switch (cause) {
    case DriftCause::playing_in:
      return "playing-in";
    case DriftCause::season:
      return "season";
    case DriftCause::wear:
      return "wear";
    case DriftCause::wander:
      return "wander";
  }
  assert(false);
  return "";
}

std::string_view code_of(DueState state) {
  switch (state) {
    case DueState::unknown:
      return "unknown";
    case DueState::overdue:
      return "overdue";
    case DueState::due_at:
      return "due-at";
    case DueState::beyond:
      return "beyond";
  }
  assert(false);
  return "";
}

std::string_view code_of(Spell spell) { return spells[static_cast<std::size_t>(spell)]; }

std::optional<Spell> spell_by_code(std::string_view code) {
  for (std::size_t i = 0; i < spells.size(); ++i)
    if (spells[i] == code) return static_cast<Spell>(i);
  return std::nullopt;
}

}  // namespace batten

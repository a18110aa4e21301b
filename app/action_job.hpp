// The mechanism of one note: readings, influence, strokes and drawings of a profile's action.
#pragma once

#include "app/desk.hpp"
#include "core/action/posture.hpp"
#include "core/action/prepare.hpp"
#include "core/action/regulate.hpp"
#include "core/action/strokes.hpp"
#include "profiles/profile_file.hpp"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

// The name under which a piano's action profile is set (choose_setting).
inline constexpr const char* action_profile_setting = "action-profile";

// By the name of a profile that comes with the program (letter case forgiven), or from a file.
// Errors: neither, a file that cannot be read or is no profile.
Result<ProfileFile> find_profile(const std::string& name_or_file);
// The one set for a piano. Error: none is set, or its file is gone.
Result<ProfileFile> profile_of(Desk& desk, const Piano& piano);
// How a profile is written into the setting: its name, or the file's whole path. Error: as
// find_profile.
Result<std::string> profile_setting(const std::string& name_or_file);

// One adjuster moved from the regulated setting, as typed: code of the catalogue, "0.2 mm" or, for
// the spring, "10 %" or "0.1".
struct Change {
  std::string adjuster, amount;
};
// Errors: no such adjuster, an amount of another unit or beyond 10 mm, a spring weaker than
// nothing.
Result<action::Adjustments> parse_changes(const std::vector<Change>& changes);

struct ActionView {
  ProfileFile file;
  action::PreparedNote prepared;  // as regulated
  action::Adjustments changes;    // zero where nothing was changed
  bool changed = false;
  action::Note note;                    // with the changes
  action::Readings readings;            // of it
  action::Readings regulated_readings;  // without the changes
};
// Error: as prepare_note; a key outside the compass A0…C8 the profiles are made for.
Result<ActionView> view_action(const ProfileFile& file, std::string_view note,
                               const std::vector<Change>& changes);

// A posture by depth as typed: "6 mm", or "rest", "let-off" (where the crown stands highest in a
// slow press), "bottom", "checked" (after a blow).
Result<action::Posture> posture_of(const ActionView& view, const std::string& depth);

struct StrokeRequest {
  std::string effort = "all", touch = "pressed";
};
struct NamedStroke {
  std::string effort;
  action::Stroke stroke;
};
// Soft, middling and loud, or one of them, with their traces. Error: no such effort or touch.
Result<std::vector<NamedStroke>> play(const ActionView& view, const StrokeRequest& request);

// Writes drawings (SVG) of the view to a file. Error: no such depth, a file that cannot be written.
Result<void> draw_side(const ActionView& view, const std::string& depth, bool inches,
                       const std::filesystem::path& file);
Result<void> draw_press_curve(const ActionView& view, const std::filesystem::path& file);
Result<void> draw_influence_chart(const ActionView& view, const action::Influence& influence,
                                  const std::filesystem::path& file);
Result<void> draw_played(const ActionView& view, const StrokeRequest& request,
                         const std::vector<NamedStroke>& strokes,
                         const std::filesystem::path& file);

}  // namespace batten

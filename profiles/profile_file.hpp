// Action profiles as JSON: read with errors a person can mend, written so that they can be edited.
//
// The format is told in docs/manual/action.md. Every number is text with its unit ("257 mm") or a
// bare number in the field's own unit; what is not given is as in a medium grand's C4
// (action::Dimensions, action::Wanted).
#pragma once

#include "core/action/profile.hpp"
#include "core/outcome/outcome.hpp"

#include <span>
#include <string>
#include <string_view>

namespace batten {

struct ProfileFile {
  action::Profile profile;
  std::string description;  // one or two sentences for the user
};

// `file` goes before every message. Errors: not JSON (line and column), a field that does not
// exist (and the nearest that does), given twice or missing, text that is not a number in the
// field's unit, a number outside its range (with the range), notes that do not rise.
Result<ProfileFile> parse_profile(std::string_view text, std::string_view file);

// What parse_profile reads; numbers come back to the last bit or one beside it. Fields that are as
// in Dimensions and Wanted on every note are left out (unless `all`), those that are equal on all
// notes stand under "everywhere".
std::string print_profile(const ProfileFile& file, bool all = false);

// The profiles that come with the program.
struct StoredProfile {
  std::string_view name;
  std::string_view text;  // JSON
};
std::span<const StoredProfile> stored_profiles();

// One number of Wanted: as action::DimensionField.
struct WantedField {
  std::string_view code, unit;
  double unit_si, low, high;
  double action::Wanted::*member;
};
std::span<const WantedField> wanted_fields();

}  // namespace batten

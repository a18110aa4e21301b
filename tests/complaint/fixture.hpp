// The table of the medium profile's C4, calculated once.
#pragma once

#include "core/regulation/complaint/complaint.hpp"
#include "profiles/profile_file.hpp"

#include <cstdlib>

namespace batten::trial {

inline const action::Profile& medium() {
  static const action::Profile profile = [] {
    auto file = parse_profile(stored_profiles()[1].text, "medium");
    if (!file) std::abort();
    return file->profile;
  }();
  return profile;
}

inline ComplaintTable make_table(Key key) {
  const auto note = action::prepare_note(medium(), key);
  if (!note) std::abort();
  auto table = calc_complaint_table(*note);
  if (!table) std::abort();
  return std::move(*table);
}

inline const ComplaintTable& c4() {
  static const ComplaintTable table = make_table(Key{40});
  return table;
}

inline std::size_t at(Look look) { return static_cast<std::size_t>(look); }
inline std::size_t at(Complaint complaint) { return static_cast<std::size_t>(complaint); }

// The cause's entry of the largest size.
inline const ComplaintTable::Entry& largest(const ComplaintTable& table, Cause cause) {
  const ComplaintTable::Entry* found = nullptr;
  for (const auto& e : table.entries)
    if (e.cause == cause && (found == nullptr || e.size > found->size)) found = &e;
  if (found == nullptr) std::abort();
  return *found;
}

}  // namespace batten::trial

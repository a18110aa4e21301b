// A note of a profile made ready: its leads found, regulated to what the profile wants.
#pragma once

#include "core/action/profile.hpp"

namespace batten::action {

struct PreparedNote {
  Key key;
  Note note;  // with leads and adjustments
  Wanted wanted;
  double balance_weight = 0;  // N, wanted
  Regulated regulated;
};

// Leads are found for the balance weight of the note as designed, then adjustments for the readings
// wanted, which are the profile's unless others are given. Costs a cold regulation. Error: a
// profile out of its ranges, leads or readings that cannot be had; the note is named.
Result<PreparedNote> prepare_note(const Profile& profile, Key key, const Wanted* wanted = nullptr);

}  // namespace batten::action

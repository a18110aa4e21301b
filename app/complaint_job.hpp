// What a player feels at a note, and what is behind it.
#pragma once

#include "app/complaint_memory.hpp"
#include "app/desk.hpp"
#include "core/regulation/complaint/complaint.hpp"

#include <string>
#include <vector>

namespace batten {

struct ComplaintRequest {
  std::string note;
  std::vector<std::string> felt;   // codes, or the beginning of one
  std::vector<std::string> looks;  // "drop 0.4", "key-freedom 1", "let-off none"; "key-height 64.2
                                   // beside 64.5", what the keys beside it read; over the journal's
};

struct PianoDiagnosis {
  Key key;
  std::vector<Complaint> felt;
  std::vector<Sighting> seen;
  // Readings of the journal that were used, of this note since it was last moved.
  std::vector<std::string> from_journal;
  std::vector<Look> looks_from_journal;  // the same
  Diagnosis diagnosis;
  std::string profile;
  bool profile_chosen = false;
};

// About a quarter of a second, unless the note's table is in the memory. Errors: as plan_work; no
// such note, complaint or look; nothing felt and nothing read; a look that cannot be.
Result<PianoDiagnosis> find_causes(Desk& desk, const Piano& piano, const ComplaintRequest& request,
                                   ComplaintMemory* memory = nullptr);

// By its code or the beginning of one that fits no other.
Result<Complaint> parse_complaint(const std::string& text);

}  // namespace batten

// All that a page about a piano itself tells: visits, settings, preparation.
#pragma once

#include "app/desk.hpp"
#include "core/journal/fold.hpp"
#include "core/regulation/line/line.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace batten {

struct PianoPage {
  Piano piano;
  std::vector<Visit> visits;  // oldest first
  Standing standing;
  PreparationGate gate;
  std::string profile;  // set, or what stands in
  bool profile_chosen = false;
  std::int64_t revision = 0;  // entries of the journal
};

Result<PianoPage> piano_page(Desk& desk, const Piano& piano);

}  // namespace batten

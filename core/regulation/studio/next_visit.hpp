// What the next visit to a piano will ask for, as its outlook expects it.
#pragma once

#include "core/keyboard/compass.hpp"
#include "core/regulation/catalogue/equipment.hpp"
#include "core/regulation/catalogue/working.hpp"
#include "core/regulation/drift/outlook.hpp"
#include "core/regulation/planning/pace.hpp"

#include <optional>

namespace batten {

// Minutes are estimates: common practice, no source, until the journal's own pace is in `paces`.
struct NextVisitOptions {
  // Once a visit: unpacking, drawing the action and putting it back, trying it out.
  double minutes_about = 25;
  // How many notes of a reading are read at first, where so many are asked.
  int samples = 22;
  // A pass is set up for where at least so many notes are expected outside.
  double worth_a_pass = 0.5;
};

struct NextVisit {
  double minutes_now = 0, minutes_at_return = 0;  // > 0
  // Expected number of notes' readings outside their tolerance that a visit today would set right;
  // what was read at some notes only is taken for the others too.
  double worth = 0;
  std::optional<Reading> worst;  // the largest share outside today; nothing where none is outside
  double worst_share = 0;        // 0…1
};

// Minutes = about + for every reading the sample notes read once, and for every note expected
// outside its move and its reading again, with the pass set up once. The aftertouch is read only:
// nothing sets it by itself. `outlook` knows some note.
NextVisit calc_next_visit(const Outlook& outlook, Compass compass, const Equipment& equipment,
                          const WorkingCatalogue& catalogue, const Paces& paces,
                          const NextVisitOptions& options = {});

}  // namespace batten

// The journal replayed over the notes. Internal to core/regulation/planning.
#pragma once

#include "core/regulation/planning/state.hpp"

#include <vector>

namespace batten::planning {

// How the aftertouch hangs on the others at a note, by its geometry:
//   aftertouch = constant + dip_share dip - blow_share blow + let_off_share let-off
//                - clearance_share jack clearance
// (the identity R1 of docs/theory/action.md with the model's own local ratios; what the jack must
// rise before it takes the hammer is travel that does nothing).
struct Tie {
  double dip_share = 1, blow_share = 0.2, let_off_share = 0.2, clearance_share = 1.5;
  double predict(const AimVector& aims) const;  // without the constant
};
Tie tie_of(const NoteModel& model);

// Fills notes, responses, questions of `out`, whose other parts are there, assuming that the
// aftertouch of each section lies `ties` from the model's, to `tie_sd` from note to note.
void replay(const Standing& standing, const ActionModel& model, const std::vector<double>& ties,
            double tie_sd, Situation& out);

}  // namespace batten::planning

// What one move does to every aim, note by note, from the mechanism fitted to this piano.
#pragma once

#include "core/action/profile.hpp"
#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/aims/targets.hpp"

#include <Eigen/Core>

#include <vector>

namespace batten {

using AimVector = Eigen::Matrix<double, aim_count, 1>;
using AimMatrix = Eigen::Matrix<double, aim_count, aim_count>;
using AdjusterVector = Eigen::Matrix<double, note_adjuster_count, 1>;
// Rows are aims (catalogue units), columns adjusters, per millimetre at the part (capstan, button,
// screw, punching, check pad, damper) or per tenth of the repetition spring's strength; + as the
// catalogue's `positive` says.
using InfluenceMatrix = Eigen::Matrix<double, aim_count, note_adjuster_count>;

struct NoteModel {
  InfluenceMatrix influence = InfluenceMatrix::Zero();
  AimVector at_target = AimVector::Zero();  // what the note reads when regulated to the targets
  double ratio = 5;                         // hammer travel to key travel, mean to let-off
};

struct ActionModel {
  Compass compass;
  std::vector<NoteModel> notes;  // one per key

  const NoteModel& at(Key key) const {
    return notes[static_cast<std::size_t>(compass.position(key))];
  }
};

// What a note regulated to the targets is to read; aims without a target, and those the model does
// not regulate (key height, spring rise, aftertouch), stay as `usual` has them.
action::Wanted wanted_at(const Targets& targets, Key key, const action::Wanted& usual);

// Naturals and sharps calculated at about one note in eleven, regulated to the targets as nearly as
// they can be, and drawn straight between. The spring's rise is not calculated but taken as two
// grades a tenth of strength (estimate). Error: as action::calc_readings, where fewer than three
// naturals or sharps can be calculated; a note is named.
Result<ActionModel> calc_action_model(const action::Profile& profile, Compass compass,
                                      const Targets& targets);

}  // namespace batten

// What every note is believed to be now: readings and moves of the journal replayed.
#pragma once

#include "core/journal/fold.hpp"
#include "core/keyboard/compass.hpp"
#include "core/outcome/outcome.hpp"
#include "core/regulation/aims/targets.hpp"
#include "core/regulation/catalogue/equipment.hpp"
#include "core/regulation/catalogue/working.hpp"
#include "core/regulation/influence/action_model.hpp"
#include "core/regulation/influence/responses.hpp"
#include "core/regulation/line/line.hpp"
#include "core/regulation/line/string_plane.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace batten {

// A Gaussian over the aims of one note, in the catalogue's units. Before anything is read it is the
// target, give or take what years do to an action, with the aftertouch tied to dip, blow and
// let-off by the geometry: reading three of them tells something of the fourth.
struct NoteState {
  Key key;
  std::size_t reg = 0;  // section
  AimVector mean = AimVector::Zero();
  AimMatrix cov = AimMatrix::Zero();
  std::array<bool, aim_count> read{};     // at least once
  std::array<bool, aim_count> doubted{};  // the last reading does not fit what came before: again
  std::array<int, aim_count> readings{};  // since its own adjuster was last turned
  // How far moves of other adjusters have carried the aim since it was last read.
  AimVector carried = AimVector::Zero();
  AdjusterVector moved = AdjusterVector::Zero();  // this visit, catalogue units
  std::array<int, note_adjuster_count> moves{};   // this visit
  // The note's adjuster was turned and its aim has not been read since.
  std::array<bool, note_adjuster_count> unread_move{};
  std::array<bool, note_adjuster_count> skipped{};  // knowingly left

  double at(Aim aim) const { return mean(static_cast<Eigen::Index>(aim)); }
  double sd(Aim aim) const;
};

// Something only the person at the piano can settle.
struct Question {
  enum class Kind {
    wrong_way,   // a turn moved its reading the other way
    odd_answer,  // a turn moved its reading far more or less than believed
    odd_reading  // a reading does not fit what was read and turned before
  } kind = Kind::odd_reading;
  Key key;
  Adjuster adjuster = Adjuster::capstan;  // for the first two
  Reading reading = Reading::blow;
  double expected = 0, expected_sd = 0, seen = 0;  // change, or the reading itself
  bool confirmed = false;  // what was seen was read again and stands; the cause is still open
};

// Everything a plan is made from.
struct Situation {
  Compass compass;
  LineSettings line;
  Targets targets;
  WorkingCatalogue catalogue;
  Equipment equipment;
  StringPlane plane;
  std::vector<NoteState> notes;  // one per key
  Responses responses{1};
  std::vector<Question> questions;  // not settled by a later reading
  // Turns that did not do what they should, settled or not: [section][adjuster].
  std::vector<std::array<int, note_adjuster_count>> odd_turns;
  std::vector<double> ties;  // per section: how far the aftertouch lies from the model's, mm

  const NoteState& at(Key key) const {
    return notes[static_cast<std::size_t>(compass.position(key))];
  }
};

// Replays the journal in its order. A reading counts with its own uncertainty; from one visit to
// the next every note may have wandered by as much again as its tolerance. A reading that does not
// fit what is believed is set aside and asked for again; a second one that agrees with it is
// believed. Moves are carried to every aim by the influence matrix times the learned response.
// Errors: settings that cannot be read.
Result<Situation> calc_situation(Compass compass, const Standing& standing,
                                 const ActionModel& model);

// What an aim is to be at a note. Without a target of its own the aftertouch is what the others
// give by the model, within its usual span. Nothing where neither is known.
std::optional<double> wanted(const Situation& situation, const ActionModel& model, Key key,
                             Aim aim);

// A reading as one of an aim: a hammer height as the blow under the fair string, a wink of the jack
// as the clearance it is worth. Nothing for readings that are none, and for a hammer height while
// the strings there or the bench are unknown. Only for readings of a note of this compass.
struct SeenAim {
  Aim aim = Aim::blow;
  double value = 0, sd = 0;  // catalogue unit
};
std::optional<SeenAim> seen_as_aim(const Situation& situation, const ReadingTaken& reading);

// What a unit of the adjuster (turn, mm, step) does to the aims at this note, by model and learned
// response, and its standard deviation as a share.
struct UnitEffect {
  AimVector change = AimVector::Zero();
  double share_sd = 0;
};
UnitEffect unit_effect(const ActionModel& model, const Responses& responses, const NoteState& note,
                       Adjuster adjuster);

}  // namespace batten

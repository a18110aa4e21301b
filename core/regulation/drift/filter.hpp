// One reading's past, filtered: what is believed of its notes and of the effects they share.
// Internal to core/regulation/drift. docs/theory/drift.md derives it.
//
// State of a note: level, its playing-in, its season. Shared by a section: playing-in, season,
// wear, as departures from the prior's mean; a section's are the piano's and some of its own. Given
// the shared, notes are independent: each runs a Kalman filter of three states whose mean is linear
// in the shared three (de Jong's augmented filter), and the innovations of all notes make up the
// normal equations of the shared. Shocks between two visits – wander of a section together, and of
// the whole piano what is not known of the wood's moisture – are integrated out where the notes are
// read next; a note learns its section's shock from the section's readings alone.
#pragma once

#include "core/regulation/drift/history.hpp"

#include <Eigen/Core>

#include <array>
#include <cstdint>
#include <span>
#include <vector>

namespace batten::drift {

// What drives drift, at every visit and at every moment asked about; one per reading and node.
struct Drivers {
  struct At {
    double day = 0;
    double hours = 0;     // played, from any zero
    double decay = 1;     // e to the −hours / hours to settle
    double settled = 0;   // how much of new felt's playing-in has passed, from any zero
    double moisture = 0;  // of the wood, %
  };
  std::vector<At> visits;
  double settle_hours = 100;
  // Variance a section's notes share and one note has of its own, a day.
  double shared_a_day = 0, own_a_day = 0;
  // What is not known of the moisture's change since the visit before, one per visit, %².
  std::vector<double> moisture_var;
};

struct NoteBelief {
  bool known = false;
  std::uint32_t visit = 0;                         // of the last event
  bool arrived = false;                            // carried to a visit, its shock not yet counted
  bool disturbed = false;                          // since it was read, in that visit
  bool set = false;                                // ever
  double set_growth = 0;                           // 1 / decay when it was set last
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();  // at the prior's mean of the shared
  Eigen::Matrix3d by_shared = Eigen::Matrix3d::Zero();  // d mean / d shared
  Eigen::Matrix3d cov = Eigen::Matrix3d::Zero();        // given the shared
};

struct Belief {
  std::vector<NoteBelief> notes;
  // The shared effects of every section, as departures from the prior's means: playing-in, season,
  // wear of the first, then of the next.
  Eigen::VectorXd shared;
  Eigen::MatrixXd shared_cov;
  double log_evidence = 0;
  int pairs = 0;

  Eigen::Vector3d of_section(std::size_t section) const {
    return shared.segment<3>(3 * static_cast<Eigen::Index>(section));
  }
};

// `use`: which notes count, one per note; empty: all.
Belief filter(const Series& series, const Drivers& drivers, std::size_t sections,
              std::span<const std::uint8_t> use = {});

// Effects before looking.
Eigen::Vector3d prior_mean(const Prior& prior);
Eigen::Matrix3d prior_cov(const Prior&prior), section_cov(const Prior&prior);
Eigen::Vector2d note_var(const Prior& prior);  // playing-in, season

// From what was believed after the last event to `to`: how the level follows the state (1, settled,
// moisture), and the wear's share.
struct Step {
  double settled = 0, moisture = 0, wear = 0, days = 0;
};
Step step_to(const NoteBelief& note, const Drivers& drivers, const Drivers::At& to);

}  // namespace batten::drift

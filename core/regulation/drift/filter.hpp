// One reading's past, filtered: what is believed of its notes and of the effects they share.
// Internal to core/regulation/drift. docs/theory/drift.md derives it.
//
// State of a note: level, its playing-in, its season. Shared by a section: playing-in, season,
// wear, as departures from the prior's mean; what a section has is the piano's and its own. Given
// the shared, notes are independent: each runs a Kalman filter of three states whose mean is linear
// in the shared three (de Jong's augmented filter), and the innovations of all notes make up the
// normal equations of the shared. A shock that a section's notes share between two visits (climate
// not seen, wander) is integrated out where they are read next.
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
    double settled = 0;   // how much of new felt's playing-in has passed, from any zero
    double moisture = 0;  // of the wood, %
  };
  std::vector<At> visits;
  double settle_hours = 100;
  // Variance a section's notes share and one note has of its own, a day; and what is not known of
  // the moisture at two ends, %².
  double shared_a_day = 0, own_a_day = 0, moisture_var = 0;
};

struct NoteBelief {
  bool known = false;
  std::uint32_t visit = 0;                              // of the last event
  bool set = false;                                     // ever
  double set_hours = 0;                                 // when it was set last
  int reads = 0;                                        // readings that met something left before
  Eigen::Vector3d mean = Eigen::Vector3d::Zero();       // at the prior's mean of the shared
  Eigen::Matrix3d by_shared = Eigen::Matrix3d::Zero();  // d mean / d shared
  Eigen::Matrix3d cov = Eigen::Matrix3d::Zero();        // given the shared
};

// Of one section, given all readings: mean = at + slope · (the piano's); and covariance about it.
struct SectionBelief {
  Eigen::Vector3d at = Eigen::Vector3d::Zero();
  Eigen::Matrix3d slope = Eigen::Matrix3d::Identity(), cov = Eigen::Matrix3d::Zero();
};

struct Belief {
  std::vector<NoteBelief> notes;
  // The shared effects, departures from the prior's means: playing-in, season, wear.
  Eigen::Vector3d piano = Eigen::Vector3d::Zero();
  Eigen::Matrix3d piano_cov = Eigen::Matrix3d::Zero();
  std::vector<SectionBelief> sections;
  double log_evidence = 0;
  int pairs = 0;
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

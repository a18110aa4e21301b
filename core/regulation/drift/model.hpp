// A piano's drift as it is believed: every reading filtered at every node of the small grid, and
// what drives it from now on. Internal to core/regulation/drift.
#pragma once

#include "core/regulation/drift/filter.hpp"
#include "core/regulation/drift/history.hpp"

#include <cstddef>
#include <vector>

namespace batten::drift {

// One setting of what is not linear: hours to settle, factor of wander.
struct Node {
  Drivers drivers;
  Belief belief;
  double weight = 0;  // sums to 1 over the nodes kept
};

struct Reckoned {
  const Series* series = nullptr;
  std::vector<Node> nodes;  // those that count
  int known = 0;            // notes
};

struct Model {
  History history;
  Climate climate{std::nullopt, {}};
  double hours_a_day = 0;
  std::vector<Reckoned> readings;  // as history.series, whose elements they point to

  // At a moment; `extra_hours` beyond the usual playing.
  Drivers::At at(const Series& series, const Node& node, double day, double extra_hours = 0) const;
  // Played by a day since the last visit; below 0 before.
  double hours(double day) const;
  // Of the wood, expected, %: the spell of the last visit dies away.
  double moisture(double day) const;
  // Of new felt's playing-in that is to come, all of it.
  Drivers::At settled_for_good(const Series& series, const Node& node, double day) const;
};

// `history` is moved into the result and must not be moved again (pointers).
void reckon(Model& model);

// Mean over the known notes (all notes where none is) of the effects of a section or all: prior's
// mean and what was learned; playing-in, season, wear.
Eigen::Vector3d section_effects(const Reckoned& reading, const Node& node, std::size_t section);
struct Effects {
  Eigen::Vector3d mean = Eigen::Vector3d::Zero(), sd = Eigen::Vector3d::Zero();
};
Effects effects(const Reckoned& reading);
// The same before anything was learned.
Effects effects_before(const Reckoned& reading);

}  // namespace batten::drift

// Pianos whose truth is known, read with honest errors.
#pragma once

#include "core/fit/model.hpp"

#include <cstdint>
#include <map>
#include <vector>

namespace batten::trial {

struct Plan {
  std::uint64_t seed = 1;
  std::vector<int> keys{3, 13, 24, 35, 40, 52, 63, 75};
  bool with_rises = true, with_weights = true;
  bool with_screws = true;  // blow, let-off, drop, dip, aftertouch
  bool with_noise = true;
  double rise_sd = 0.15e-3;  // m; shims measured to 0.02 mm, the crown by a dial gauge
  double spread = 1;         // of the true changes, in prior standard deviations
};

struct InventedPiano {
  fit::Task task;                       // the base profile and the readings, noise included
  std::vector<double> truth;            // changes in prior standard deviations
  std::vector<double> honest;           // the readings without noise, in the task's order
  std::map<Key, double> ratio, course;  // true figures, see fit::What
};

// Changes drawn from the priors, settings about the profile's wanted ones, noise of the
// catalogue's usual uncertainties. Draws again where the action drawn cannot be regulated.
InventedPiano invent(const Plan& plan);

}  // namespace batten::trial

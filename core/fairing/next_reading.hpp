// Which note to read next. Internal to core/fairing.
#pragma once

#include "core/fairing/fair_curve.hpp"
#include "core/fairing/section_model.hpp"

#include <vector>

namespace batten::fairing {

// Doubtful keys first (the likeliest wrong reading first, unless its key was read three times),
// then the keys whose reading lowers the RMS standard deviation of their section's curve most, at
// most one a section; five in all.
std::vector<NextReading> propose_readings(const FairCurve& curve,
                                          const std::vector<HeightReading>& readings,
                                          const Hyperparameters& central, const MeanPrior& mean);

}  // namespace batten::fairing

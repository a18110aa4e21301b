// The train thrown in steps of 100 us: one, or eight at once on each instruction set.
#pragma once

#include "core/mechanism/model.hpp"

namespace batten::benchmarks {

inline constexpr int steps = 600;

// `arm` takes the thrown arm's angle at the end, of each lane.
void step_one(const mechanism::Model<double>& model, double* arm);
void step_base(const mechanism::Model<double>* eight, double* arm);
void step_avx2(const mechanism::Model<double>* eight, double* arm);
void step_avx512(const mechanism::Model<double>* eight, double* arm);

}  // namespace batten::benchmarks

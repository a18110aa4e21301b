#include "benchmarks/mechanism/lane_steps_of.hpp"

namespace batten::benchmarks {

void step_avx2(const mechanism::Model<double>* eight, double* arm) {
  step_eight<mechanism::Isa::avx2>(eight, arm);
}

}  // namespace batten::benchmarks

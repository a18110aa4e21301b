#include "benchmarks/mechanism/lane_steps_of.hpp"

namespace batten::benchmarks {

void step_avx512(const mechanism::Model<double>* eight, double* arm) {
  step_eight<mechanism::Isa::avx512>(eight, arm);
}

}  // namespace batten::benchmarks

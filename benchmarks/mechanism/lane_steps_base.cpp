#include "benchmarks/mechanism/lane_steps_of.hpp"

namespace batten::benchmarks {

void step_one(const mechanism::Model<double>& model, double* arm) { step_of(model, arm); }
void step_base(const mechanism::Model<double>* eight, double* arm) {
  step_eight<mechanism::Isa::base>(eight, arm);
}

}  // namespace batten::benchmarks

#include "tests/mechanism/lane_throw_of.hpp"

namespace batten::tests {

void throw_one(const mechanism::Model<double>& model, double hold, double* out) {
  throw_of(model, hold, out);
}
void throw_base(const mechanism::Model<double>* eight, const double* hold, double* out) {
  throw_eight<mechanism::Isa::base>(eight, hold, out);
}

}  // namespace batten::tests

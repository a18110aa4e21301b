#include "tests/mechanism/lane_throw_of.hpp"

namespace batten::tests {

void throw_avx2(const mechanism::Model<double>* eight, const double* hold, double* out) {
  throw_eight<mechanism::Isa::avx2>(eight, hold, out);
}

}  // namespace batten::tests

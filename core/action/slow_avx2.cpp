// Built for machines with this instruction set where there are any; empty elsewhere.
#if defined(__AVX2__)
#include "core/action/slow_lanes.hpp"

namespace batten::action::slow {

void run_avx2(Job* jobs, int count) {
  run_packed<mechanism::Lanes<mechanism::Isa::avx2>>(jobs, count);
}

}  // namespace batten::action::slow
#endif

#include "core/action/slow.hpp"

#include "core/action/slow_lanes.hpp"

namespace batten::action::slow {

namespace {

struct Runner {
  void (*run)(Job* jobs, int count);
  int worth;  // from so many notes it is quicker than one after the other (measured)
};

Runner best_runner() {
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("avx512vl"))
    return {run_avx512, 2};
  if (__builtin_cpu_supports("avx2")) return {run_avx2, 5};
#endif
  return {run_base, 7};
}

}  // namespace

void run(Job* jobs, int count) {
  const Runner best = best_runner();
  if (count >= best.worth) {
    best.run(jobs, count);
    return;
  }
  for (int k = 0; k < count; ++k) run_jobs(*jobs[k].model, jobs + k, 1);
}

}  // namespace batten::action::slow

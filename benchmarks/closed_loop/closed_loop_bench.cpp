// One piano regulated from the first look to the last by what Batten says; target 1 s. Beside it
// the two reference technicians on the same piano. The answer is held to the hidden truth.
#include "workshop/batten_technician.hpp"
#include "workshop/closed_loop.hpp"
#include "workshop/mechanism_piano.hpp"
#include "workshop/reference_technicians.hpp"

#include <benchmark/benchmark.h>

#include <memory>

namespace {

using namespace batten::workshop;

void regulate(benchmark::State& state, std::unique_ptr<Technician> technician) {
  const auto found = make_mechanism_piano(1);
  for (auto _ : state) {
    const auto piano = found->copy();
    const Outcome outcome = run(*piano, *technician, 1);
    if (!(outcome.after.unevenness_all < 0.7 * outcome.before.unevenness_all))
      return state.SkipWithError("the piano is hardly more even than it was");
  }
}

void closed_loop_piano(benchmark::State& state) { regulate(state, batten_technician()); }
void reference_by_the_book(benchmark::State& state) { regulate(state, by_the_book()); }
void reference_skilled(benchmark::State& state) { regulate(state, skilled()); }

BENCHMARK(closed_loop_piano)->Unit(benchmark::kMillisecond);
BENCHMARK(reference_by_the_book)->Unit(benchmark::kMillisecond);
BENCHMARK(reference_skilled)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

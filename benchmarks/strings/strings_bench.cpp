// One whole blow, strings stilled, first touch to release, at a mechanism's step of 100 us; target
// 40 us. Beside it the same blow by modes, as one writes it from a textbook, at the same substep
// and with the fewest modes that come as near the limit: both within 1 % of rebound and contact
// time.
#include "tests/strings/free_head.hpp"
#include "tests/strings/modal_reference.hpp"

#include <benchmark/benchmark.h>

#include <cmath>

namespace {

using namespace batten;

constexpr double step = 100e-6;  // s
constexpr double speed = 2.5;    // m/s

struct Expected {
  double rebound;       // m/s
  double contact_time;  // s
};

constexpr int fewest_modes[]{100, 40, 40};

// From 3200 modes at steps of 0.05 to 0.5 us.
constexpr Expected expected[]{{1.14123, 3.7735e-3}, {1.62688, 2.0406e-3}, {2.39768, 0.6462e-3}};

bool is_right(double rebound, double contact_time, const Expected& wanted, double share) {
  return std::abs(rebound / wanted.rebound - 1) < share &&
         std::abs(contact_time / wanted.contact_time - 1) < share;
}

StruckNote lossless(std::size_t note) {
  StruckNote result = known_notes[note];
  result.unison.reflection = 1;
  return result;
}

void BM_Blow(benchmark::State& state) {
  const auto note = static_cast<std::size_t>(state.range(0));
  const StruckNote n = lossless(note);
  StruckUnison strings(n.unison, n.felt);
  for ([[maybe_unused]] auto _ : state) {
    const tests::Blow blow = tests::strike(strings, tests::known_mass(note), speed, step);
    if (!is_right(blow.rebound, blow.contact_time, expected[note], 0.01))
      state.SkipWithError("wrong answer");
  }
}

void BM_ReferenceModes(benchmark::State& state) {
  const auto note = static_cast<std::size_t>(state.range(0));
  const StruckNote n = lossless(note);
  const double substep = StruckUnison(n.unison, n.felt).grid();
  const double duration = std::ceil(1.1 * expected[note].contact_time / step) * step;
  for ([[maybe_unused]] auto _ : state) {
    const tests::ModalBlow blow =
        tests::strike_modes(n.unison, n.felt, tests::known_mass(note), speed, fewest_modes[note],
                            substep, duration, step);
    if (!is_right(blow.rebound, blow.contact_time, expected[note], 0.01))
      state.SkipWithError("wrong answer");
  }
}

// What every step of a mechanism pays before the head is near.
void BM_StepFarFromStrings(benchmark::State& state) {
  StruckUnison strings(known_notes[0].unison, known_notes[0].felt);
  double height = -30e-3;
  for ([[maybe_unused]] auto _ : state) {
    benchmark::DoNotOptimize(height);
    const Impulse got = strings.advance(step, height, speed, 100, 10e-3);
    if (got.impulse != 0) state.SkipWithError("wrong answer");
  }
}

BENCHMARK(BM_Blow)->DenseRange(0, 2)->Unit(benchmark::kMicrosecond);
BENCHMARK(BM_ReferenceModes)->DenseRange(0, 2)->Unit(benchmark::kMicrosecond);
BENCHMARK(BM_StepFarFromStrings)->Unit(benchmark::kNanosecond);

}  // namespace

BENCHMARK_MAIN();

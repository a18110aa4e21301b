// A mechanism of nine coordinates and eleven contacts: one step, of one and of eight; accelerations
// and a whole throw beside Simbody and CVODE. Every answer is checked in the run that is timed.
#include "benchmarks/mechanism/lane_steps.hpp"
#include "tests/mechanism/cvode_run.hpp"
#include "tests/mechanism/plain_of.hpp"
#include "tests/mechanism/samples.hpp"
#include "tests/mechanism/simbody_mechanism.hpp"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <tuple>
#include <vector>

namespace batten::benchmarks {
namespace {

using namespace mechanism;
using tests::Trial;

std::vector<Model<double>> eight_models() {
  std::vector<Model<double>> models;
  for (int lane = 0; lane < lane_count; ++lane)
    models.push_back(make_model(tests::train(0.125 * lane)));
  return models;
}

void per_step(benchmark::State& state) {
  // Per step of all lanes together.
  state.counters["per_step"] =
      benchmark::Counter(static_cast<double>(state.iterations()) * steps,
                         benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

void mechanism_step_one(benchmark::State& state) {
  const Model<double> model = make_model(tests::train());
  double arm = 0;
  for (auto _ : state) {
    step_one(model, &arm);
    benchmark::DoNotOptimize(arm);
  }
  if (!(arm > 0.1 && arm < 1)) state.SkipWithError("the arm was not thrown");
  per_step(state);
}
BENCHMARK(mechanism_step_one)->Unit(benchmark::kMicrosecond);

using Eight = void (*)(const Model<double>*, double*);
void mechanism_step_eight(benchmark::State& state, Eight eight) {
  const std::vector<Model<double>> models = eight_models();
  double arms[lane_count] = {};
  for (auto _ : state) {
    eight(models.data(), arms);
    benchmark::DoNotOptimize(arms);
  }
  for (std::size_t lane = 0; lane < lane_count; ++lane) {
    double arm = 0;
    step_one(models[lane], &arm);
    if (arm != arms[lane]) state.SkipWithError("a lane differs from one alone");
  }
  per_step(state);
}
BENCHMARK_CAPTURE(mechanism_step_eight, base, step_base)->Unit(benchmark::kMicrosecond);

// States along a throw, contacts coming and going.
std::vector<Motion<double>> states() {
  std::vector<Motion<double>> all;
  Trial trial(tests::train());
  trial.v(0) = trial.v(1) = 6;
  for (int k = 0; k < 200; ++k) {
    all.push_back(trial.motion);
    trial.step(1e-4);
  }
  return all;
}
std::vector<double> numbers(const double (&from)[max_coordinates], int count) {
  return {from, from + count};
}

// Accelerations at 200 states.
void mechanism_accelerations(benchmark::State& state) {
  const std::vector<Motion<double>> all = states();
  Trial trial(tests::train());
  double acceleration[max_coordinates];
  for (auto _ : state)
    for (const auto& motion : all) {
      calc_acceleration(trial.model, motion, trial.extra, trial.options, trial.forces,
                        acceleration);
      benchmark::DoNotOptimize(acceleration);
    }
}
BENCHMARK(mechanism_accelerations)->Unit(benchmark::kMicrosecond);

void reference_simbody_accelerations(benchmark::State& state) {
  const std::vector<Motion<double>> all = states();
  Trial trial(tests::train());
  const int n = trial.model.count;
  tests::SimbodyMechanism simbody(tests::plain_of(trial.description));
  std::vector<std::vector<double>> q, v;
  for (const auto& motion : all) {
    q.push_back(numbers(motion.q, n));
    v.push_back(numbers(motion.v, n));
  }
  for (auto _ : state)
    for (std::size_t k = 0; k < all.size(); ++k) {
      simbody.set(q[k], v[k]);
      auto acceleration = simbody.accelerations();
      benchmark::DoNotOptimize(acceleration);
    }
  for (std::size_t k = 0; k < all.size(); ++k) {
    simbody.set(q[k], v[k]);
    const std::vector<double> theirs = simbody.accelerations();
    double ours[max_coordinates], largest = 0, worst = 0;
    calc_acceleration(trial.model, all[k], trial.extra, trial.options, trial.forces, ours);
    for (std::size_t i = 0; i < theirs.size(); ++i) {
      largest = std::max(largest, std::abs(ours[i]));
      worst = std::max(worst, std::abs(ours[i] - theirs[i]));
    }
    if (worst > 1e-9 * largest) state.SkipWithError("Simbody gives other accelerations");
  }
}
BENCHMARK(reference_simbody_accelerations)->Unit(benchmark::kMicrosecond);

// A throw of 12 ms to a head speed within 1 % of CVODE at 1e-10. Each integrator at the largest
// step or tolerance, of those tried by factors of two to three, that holds this.
constexpr double throw_time = 0.012, cvode_tolerance = 1e-3, simbody_accuracy = 0.03;

Trial struck() {
  Trial trial(tests::train());
  trial.v(0) = trial.v(1) = 6;
  return trial;
}
double exact_speed() {
  static const double speed = [] {
    Trial trial = struck();
    if (!tests::integrate_by_cvode(trial, throw_time, 1e-10)) return 0.0;
    return watch(trial.model, 1, trial.motion).speed_y;
  }();
  return speed;
}
void judge(benchmark::State& state, double speed) {
  const double error = speed / exact_speed() - 1;
  state.counters["error_percent"] = 100 * error;
  if (!(std::abs(error) < 0.01)) state.SkipWithError("the head's speed is more than 1 % off");
}

void mechanism_throw_within_1_percent(benchmark::State& state) {
  const Trial start = struck();
  double speed = 0;
  for (auto _ : state) {
    Trial trial = start;
    trial.options.soft_friction_slope = true;
    trial.options.reach = 2e-3;
    const int count = static_cast<int>(std::lround(throw_time / 50e-6));
    for (int k = 0; k < count; ++k) trial.step(50e-6);
    speed = watch(trial.model, 1, trial.motion).speed_y;
  }
  judge(state, speed);
}
BENCHMARK(mechanism_throw_within_1_percent)->Unit(benchmark::kMicrosecond);

void reference_cvode_throw_within_1_percent(benchmark::State& state) {
  const Trial start = struck();
  double speed = 0;
  tests::CvodeCounts counts;
  for (auto _ : state) {
    Trial trial = start;
    if (!tests::integrate_by_cvode(trial, throw_time, cvode_tolerance, &counts))
      state.SkipWithError("CVODE gave up");
    speed = watch(trial.model, 1, trial.motion).speed_y;
  }
  state.counters["steps"] = static_cast<double>(counts.steps);
  state.counters["evaluations"] = static_cast<double>(counts.evaluations);
  judge(state, speed);
}
BENCHMARK(reference_cvode_throw_within_1_percent)->Unit(benchmark::kMicrosecond);

void reference_simbody_throw_within_1_percent(benchmark::State& state) {
  const Trial start = struck();
  const int n = start.model.count;
  tests::SimbodyMechanism simbody(tests::plain_of(start.description));
  Trial end = start;
  for (auto _ : state) {
    simbody.set(numbers(start.motion.q, n), numbers(start.motion.v, n));
    simbody.integrate(throw_time, simbody_accuracy);
    const std::vector<double> q = simbody.q(), v = simbody.v();
    std::copy(q.begin(), q.end(), end.motion.q);
    std::copy(v.begin(), v.end(), end.motion.v);
  }
  judge(state, watch(end.model, 1, end.motion).speed_y);
}
BENCHMARK(reference_simbody_throw_within_1_percent)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace batten::benchmarks

int main(int argc, char** argv) {
#if defined(BATTEN_X86_LANES)
  using namespace batten::benchmarks;
  __builtin_cpu_init();
  for (const auto& [name, eight, here] : {std::tuple{"mechanism_step_eight/avx2", &step_avx2,
                                                     __builtin_cpu_supports("x86-64-v3") != 0},
                                          std::tuple{"mechanism_step_eight/avx512", &step_avx512,
                                                     __builtin_cpu_supports("x86-64-v4") != 0}})
    if (here)
      benchmark::RegisterBenchmark(name, [eight = eight](benchmark::State& state) {
        mechanism_step_eight(state, eight);
      })->Unit(benchmark::kMicrosecond);
#endif
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}

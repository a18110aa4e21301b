// What to do in 150 minutes of about 600, for 88 notes × up to 12 ways × 10 passes on invented
// pianos; target 10 ms. Beside it the same programs by GLPK, to a gap of 0.2 % and at most 10 s
// each. The answers are held to GLPK's bound and to the choice's own.
#include "tests/planning/exact_time_box.hpp"
#include "tests/planning/time_box_cases.hpp"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cstddef>
#include <vector>

namespace {

using namespace batten;

constexpr double gap = 0.002, seconds = 10, rounding = 1e-6;

std::vector<TimeBoxTask> make_tasks() {
  std::vector<TimeBoxTask> tasks;
  for (std::uint64_t seed = 50; seed < 58; ++seed) {
    workshop::Chance chance(seed);
    tasks.push_back(invented::as_task(invented::find_piano(chance), 150));
  }
  return tasks;
}

const std::vector<exact::Answer>& references(const std::vector<TimeBoxTask>& tasks) {
  static const std::vector<exact::Answer> answers = [&] {
    std::vector<exact::Answer> all;
    for (const TimeBoxTask& task : tasks) all.push_back(exact::solve_time_box(task, gap, seconds));
    return all;
  }();
  return answers;
}

bool is_right(const TimeBoxTask& task, const TimeBoxChoice& choice, const exact::Answer& judge) {
  double cost = 0;
  return exact::is_permitted(task, choice.bundle, &cost) && judge.solved &&
         choice.cost <= judge.cost * (1 + rounding) &&
         choice.cost >= judge.bound * (1 - rounding) &&
         choice.bound >= choice.cost * (1 - rounding);
}

// One piano after the other: the time is the mean of eight.
void time_box_150_minutes(benchmark::State& state) {
  const auto tasks = make_tasks();
  const auto& judges = references(tasks);
  std::size_t i = 0;
  for ([[maybe_unused]] auto _ : state) {
    const auto choice = choose_in_time(tasks[i]);
    if (!choice || !is_right(tasks[i], *choice, judges[i])) state.SkipWithError("wrong answer");
    i = (i + 1) % tasks.size();
  }
}

void time_box_curve_of_25_spans(benchmark::State& state) {
  const auto tasks = make_tasks();
  std::vector<double> spans;
  for (int k = 0; k < 25; ++k) spans.push_back(25.0 * k);
  std::size_t i = 0;
  for ([[maybe_unused]] auto _ : state) {
    const auto curve = time_box_curve(tasks[i], spans);
    const bool falls = curve && std::ranges::is_sorted(*curve, std::ranges::greater(),
                                                       [](const auto& p) { return p.choice.cost; });
    if (!falls || curve->size() != spans.size()) state.SkipWithError("wrong answer");
    i = (i + 1) % tasks.size();
  }
}

void reference_time_box_by_glpk(benchmark::State& state) {
  const auto tasks = make_tasks();
  std::size_t i = 0;
  for ([[maybe_unused]] auto _ : state) {
    const auto answer = exact::solve_time_box(tasks[i], gap, seconds);
    double cost = 0;
    if (!answer.solved || !exact::is_permitted(tasks[i], answer.bundle, &cost))
      state.SkipWithError("wrong answer");
    i = (i + 1) % tasks.size();
  }
}

BENCHMARK(time_box_150_minutes)->Unit(benchmark::kMillisecond);
BENCHMARK(time_box_curve_of_25_spans)->Unit(benchmark::kMillisecond);
BENCHMARK(reference_time_box_by_glpk)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

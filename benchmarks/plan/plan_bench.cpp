// A plan from nothing, and again after an entry; targets 300 ms and 30 ms. Beside them the
// influence of every note by the mechanism itself, which the plan draws between one note in eleven.
#include "core/regulation/planning/plan.hpp"
#include "profiles/profile_file.hpp"
#include "tests/planning/linear_piano.hpp"

#include <benchmark/benchmark.h>

#include <cmath>

namespace {

using namespace batten;

const action::Profile& medium() {
  static const action::Profile profile = [] {
    for (const StoredProfile& stored : stored_profiles())
      if (stored.name == "medium") return parse_profile(stored.text, "medium")->profile;
    return action::Profile{};
  }();
  return profile;
}

// Everything read on a piano worn in every adjuster.
const testing::LinearPiano& piano() {
  static const testing::LinearPiano worn = [] {
    testing::LinearPiano p(42);
    p.prepare();
    p.misset_all(2);
    p.read_all(1);
    p.read_all(1);
    return p;
  }();
  return worn;
}

int count_moves(const Plan& plan) {
  int n = 0;
  for (const Pass& p : plan.passes) n += p.moves;
  return n;
}

// The moves asked for bring the piano, as it truly is, nearer to what is wanted.
bool sound(const Plan& plan) {
  return count_moves(plan) > 200 && plan.unevenness_after < 0.5 * plan.unevenness &&
         plan.order.rework_derived <= plan.order.rework_common;
}

void plan_cold_88_notes(benchmark::State& state) {
  const Standing standing = piano().standing();
  for (auto _ : state) {
    const auto targets = targets_on_record({}, *parse_sections("F2 bridge, D4 strut, B5 strut", {}),
                                           standing.settings);
    const auto model = calc_action_model(medium(), {}, *targets);
    const auto plan = calc_plan({}, standing, *model);
    if (!sound(*plan)) return state.SkipWithError("the plan makes the piano no better");
  }
}

void replan_after_one_entry(benchmark::State& state) {
  for (auto _ : state) {
    const auto plan = calc_plan({}, piano().standing(), piano().model());
    if (!sound(*plan)) return state.SkipWithError("the plan makes the piano no better");
  }
}

void replan_for_150_minutes(benchmark::State& state) {
  PlanOptions options;
  options.minutes = 150;
  for (auto _ : state) {
    const auto plan = calc_plan({}, piano().standing(), piano().model(), options);
    if (!plan || plan->minutes > 150.001 || count_moves(*plan) < 30)
      return state.SkipWithError("the plan does not fit the minutes");
  }
}

void reference_influence_of_every_note(benchmark::State& state) {
  for (auto _ : state) {
    double sum = 0;
    for (int k = 1; k <= 88; ++k) {
      const action::Anchor anchor = action::note_of(medium(), Key{k});
      const auto regulated = action::solve_regulation(anchor.dimensions, anchor.wanted);
      const auto influence = action::calc_influence({anchor.dimensions, regulated->adjustments});
      sum += influence->value[0][0];
    }
    if (!(sum < 0)) return state.SkipWithError("a raised capstan lengthens the blow");
  }
}

BENCHMARK(plan_cold_88_notes)->Unit(benchmark::kMillisecond);
BENCHMARK(replan_after_one_entry)->Unit(benchmark::kMillisecond);
BENCHMARK(replan_for_150_minutes)->Unit(benchmark::kMillisecond);
BENCHMARK(reference_influence_of_every_note)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

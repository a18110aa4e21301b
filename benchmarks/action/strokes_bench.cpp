// Strokes of all 88 notes of the medium profile at three efforts, eight at once, on one core and on
// two; targets 15 ms to the string, 80 ms in full. Beside them the same one note at a time, and the
// reference the answers are held to: steps of 4 us.
#include "core/action/prepare.hpp"
#include "core/action/strokes.hpp"
#include "profiles/profile_file.hpp"

#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdlib>
#include <thread>
#include <vector>

namespace {

using namespace batten;
using namespace batten::action;

const std::vector<Note>& keyboard() {
  static const std::vector<Note> notes = [] {
    std::vector<Note> out;
    for (const StoredProfile& stored : stored_profiles()) {
      if (stored.name != "medium") continue;
      const auto file = parse_profile(stored.text, stored.name);
      if (!file) std::exit(1);
      for (int key = 1; key <= 88; ++key) {
        auto note = prepare_note(file->profile, Key{key});
        if (!note) std::exit(1);
        out.push_back(note->note);
      }
    }
    return out;
  }();
  return notes;
}

std::vector<Finger> efforts() {
  return {standard_finger(Effort::soft, Touch::pressed),
          standard_finger(Effort::middling, Touch::pressed),
          standard_finger(Effort::loud, Touch::pressed)};
}

// Steps that hold the hammer's speed to 1 % (checked below).
StrokeOptions to_string() {
  StrokeOptions o;
  o.to_string = true;
  o.travel = 15e-6;
  o.longest = 300e-6;
  o.shortest = 30e-6;
  o.time = 0.25;
  o.contact_step = 300e-6;
  return o;
}

StrokeOptions exact() {
  StrokeOptions o;
  o.to_string = true;
  o.travel = 1e-6;
  o.shortest = 2e-6;
  o.longest = 4e-6;
  o.contact_step = 4e-6;
  o.time = 0.25;
  return o;
}

const std::vector<Result<Stroke>>& reference() {
  static const auto strokes = calc_strokes(keyboard(), efforts(), exact());
  return strokes;
}

// Largest error of a hammer's speed, as a share.
double worst_error(const std::vector<Result<Stroke>>& strokes) {
  double worst = 0;
  for (std::size_t k = 0; k < strokes.size(); ++k) {
    if (!strokes[k]) return 1;
    const double error = std::abs(strokes[k]->hammer_speed / reference()[k]->hammer_speed - 1);
    if (!(error < worst)) worst = std::isnan(error) ? 1 : error;
  }
  return worst;
}

void report(benchmark::State& state, const std::vector<Result<Stroke>>& strokes, double allowed) {
  const double worst = worst_error(strokes);
  state.counters["worst_error_percent"] = 100 * worst;
  if (worst > allowed) state.SkipWithError("wrong answer");
}

void BM_StrokesToString(benchmark::State& state) {
  std::vector<Result<Stroke>> strokes;
  const auto fingers = efforts();
  const auto& notes = keyboard();
  for ([[maybe_unused]] auto _ : state) strokes = calc_strokes(notes, fingers, to_string());
  report(state, strokes, 0.01);
}

void BM_StrokesToStringOnTwoCores(benchmark::State& state) {
  const auto fingers = efforts();
  const auto& notes = keyboard();
  std::vector<Result<Stroke>> low, high;
  for ([[maybe_unused]] auto _ : state) {
    std::thread other(
        [&] { low = calc_strokes(std::span(notes).first(44), fingers, to_string()); });
    high = calc_strokes(std::span(notes).last(44), fingers, to_string());
    other.join();
  }
  low.insert(low.end(), high.begin(), high.end());
  report(state, low, 0.01);
}

void BM_ReferenceStrokesOneByOne(benchmark::State& state) {
  const auto fingers = efforts();
  std::vector<Result<Stroke>> strokes;
  for ([[maybe_unused]] auto _ : state) {
    strokes.clear();
    for (const Note& note : keyboard())
      for (const Finger& finger : fingers)
        strokes.push_back(calc_stroke(note, finger, to_string()));
  }
  report(state, strokes, 0.01);
}

void BM_ReferenceStrokesFineSteps(benchmark::State& state) {
  const auto fingers = efforts();
  std::vector<Result<Stroke>> strokes;
  for ([[maybe_unused]] auto _ : state) strokes = calc_strokes(keyboard(), fingers, exact());
  report(state, strokes, 1e-12);
}

// 150 ms each, with string, check and bending.
void BM_StrokesInFull(benchmark::State& state) {
  const auto fingers = efforts();
  const auto& notes = keyboard();
  std::vector<Result<Stroke>> strokes;
  StrokeOptions options;
  options.time = 0.25;  // 150 ms from the key's start of the softest, whose push takes 50 ms to begin
  for ([[maybe_unused]] auto _ : state) strokes = calc_strokes(notes, fingers, options);
  report(state, strokes, 0.015);
}

BENCHMARK(BM_StrokesToString)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_StrokesToStringOnTwoCores)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(BM_ReferenceStrokesOneByOne)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_ReferenceStrokesFineSteps)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(BM_StrokesInFull)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

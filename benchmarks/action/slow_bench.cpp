// Slow readings, influence and virtual regulation of the medium profile; targets 0.6 ms a note, 8
// ms a note, 400 ms for 88 notes from nothing and 100 ms from their neighbours. Beside each the
// same work one note after the other. The answers are held to what was wanted.
#include "core/action/prepare.hpp"
#include "profiles/profile_file.hpp"

#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

namespace {

using namespace batten;
using namespace batten::action;

struct Keyboard {
  std::vector<Dimensions> dimensions;
  std::vector<Wanted> wanted;
  std::vector<Adjustments> found;
  std::vector<Note> notes;
};

const Keyboard& keyboard() {
  static const Keyboard all = [] {
    Keyboard k;
    for (const StoredProfile& stored : stored_profiles()) {
      if (stored.name != "medium") continue;
      const auto file = parse_profile(stored.text, stored.name);
      for (int key = 1; file && key <= 88; ++key) {
        Anchor note = note_of(file->profile, Key{key});
        if (const auto lead = solve_lead({note.dimensions, {}}, note.balance_weight))
          note.dimensions.lead_mass = *lead;
        k.dimensions.push_back(note.dimensions);
        k.wanted.push_back(note.wanted);
      }
    }
    for (const auto& g : solve_regulation(k.dimensions, k.wanted)) {
      if (!g) return Keyboard{};
      k.notes.push_back({k.dimensions[k.found.size()], g->adjustments});
      k.found.push_back(g->adjustments);
    }
    return k;
  }();
  return all;
}

ReadOptions plain() {
  ReadOptions options;
  options.with_blow = options.keep_curves = false;
  return options;
}

bool right(const Readings& r, const Wanted& w) {
  return r.faults.empty() && std::abs(r.let_off - w.let_off) < 20e-6 &&
         std::abs(r.drop - w.drop) < 30e-6 && std::abs(r.dip - w.dip) < 20e-6;
}

void count_notes(benchmark::State& state) {
  state.counters["notes"] = benchmark::Counter(
      static_cast<double>(keyboard().notes.size()) * static_cast<double>(state.iterations()),
      benchmark::Counter::kIsRate);
}

void slow_readings_88_notes(benchmark::State& state) {
  const Keyboard& k = keyboard();
  if (k.notes.size() != 88) return state.SkipWithError("the profile does not regulate");
  for (auto _ : state) {
    const auto readings = calc_readings(k.notes, plain());
    for (std::size_t i = 0; i < readings.size(); ++i)
      if (!readings[i] || !right(*readings[i], k.wanted[i]))
        return state.SkipWithError("a note does not read as it was regulated");
  }
  count_notes(state);
}

void reference_slow_readings_one_by_one(benchmark::State& state) {
  const Keyboard& k = keyboard();
  if (k.notes.size() != 88) return state.SkipWithError("the profile does not regulate");
  for (auto _ : state)
    for (std::size_t i = 0; i < k.notes.size(); ++i) {
      const auto reading = calc_readings(k.notes[i], plain());
      if (!reading || !right(*reading, k.wanted[i]))
        return state.SkipWithError("a note does not read as it was regulated");
    }
  count_notes(state);
}

void slow_readings_one_note(benchmark::State& state) {
  const Keyboard& k = keyboard();
  if (k.notes.size() != 88) return state.SkipWithError("the profile does not regulate");
  for (auto _ : state) {
    const auto reading = calc_readings(k.notes[39], plain());
    if (!reading || !right(*reading, k.wanted[39]))
      return state.SkipWithError("the note does not read as it was regulated");
  }
}

void influence_one_note(benchmark::State& state) {
  const Keyboard& k = keyboard();
  if (k.notes.size() != 88) return state.SkipWithError("the profile does not regulate");
  for (auto _ : state) {
    const auto f = calc_influence(k.notes[39]);
    // A dip is what the front punching takes away.
    if (!f || std::abs(f->value[static_cast<std::size_t>(Row::aftertouch)][2] -
                       f->value[static_cast<std::size_t>(Row::dip)][2]) > 0.01)
      return state.SkipWithError("aftertouch does not follow the dip");
  }
}

void hold_all(benchmark::State& state, const std::vector<Result<Regulated>>& regulated) {
  for (const auto& g : regulated)
    if (!g || !g->reached) return state.SkipWithError("a note is not reached");
}

void regulation_88_notes_cold(benchmark::State& state) {
  const Keyboard& k = keyboard();
  if (k.notes.size() != 88) return state.SkipWithError("the profile does not regulate");
  for (auto _ : state) hold_all(state, solve_regulation(k.dimensions, k.wanted));
  count_notes(state);
}

void regulation_88_notes_from_neighbours(benchmark::State& state) {
  const Keyboard& k = keyboard();
  if (k.notes.size() != 88) return state.SkipWithError("the profile does not regulate");
  // A note of the same colour, an octave away: farther than a neighbour, so no better a start.
  std::vector<Adjustments> starts;
  for (std::size_t i = 0; i < 88; ++i) starts.push_back(k.found[i >= 12 ? i - 12 : i + 12]);
  for (auto _ : state) hold_all(state, solve_regulation(k.dimensions, k.wanted, starts));
  count_notes(state);
}

BENCHMARK(slow_readings_88_notes)->Unit(benchmark::kMillisecond);
BENCHMARK(reference_slow_readings_one_by_one)->Unit(benchmark::kMillisecond);
BENCHMARK(slow_readings_one_note)->Unit(benchmark::kMillisecond);
BENCHMARK(influence_one_note)->Unit(benchmark::kMillisecond);
BENCHMARK(regulation_88_notes_cold)->Unit(benchmark::kMillisecond);
BENCHMARK(regulation_88_notes_from_neighbours)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

// The line job of a whole piano, cold: from what stands in the journal to 88 targets, moves in
// working order and what to read next; target 5 ms. Beside it in benchmarks/compare: the curves
// alone as one writes them with SciPy. The answers are held to the truth the readings came from.
#include "core/fairing/fair_curve.hpp"
#include "core/journal/fold.hpp"
#include "core/keyboard/samples.hpp"
#include "core/regulation/line/line.hpp"
#include "workshop/string_line.hpp"

#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

namespace {

using namespace batten;

constexpr double bench_offset = 63.4;  // mm, strings' datum over the bench's
constexpr double blow = 45.5;          // mm

struct Job {
  workshop::StringLine strings;
  std::vector<HeightReading> readings;
  Standing standing;
};

enum class Strings { plain_samples, fuller_samples, all };

std::vector<Key> keys_to_read(const workshop::StringLine& line, Strings which) {
  if (which == Strings::plain_samples) return propose_samples(line.sections);
  if (which == Strings::fuller_samples) return propose_fuller_samples(line.sections);
  std::vector<Key> all;
  all.reserve(static_cast<std::size_t>(line.compass.count()));
  for (int i = 0; i < line.compass.count(); ++i) all.push_back(line.compass.at(i));
  return all;
}

// Strings at the keys asked for, one of them 1.2 mm off where the others are enough to tell; every
// hammer, some of them far out; the bench tied to the strings at four keys; every item of
// preparation found in order; aftertouch read once a section.
Job make_job(Strings which) {
  workshop::Chance chance(1843);
  Job job;
  job.strings = workshop::make_string_line(chance);
  job.readings = take_readings(job.strings, keys_to_read(job.strings, which), chance);
  if (which != Strings::plain_samples)
    job.readings[job.readings.size() / 3].height += 1.2 * millimetre;

  std::vector<Entry> entries;
  const auto write = [&](EntryContent content) {
    Entry e;
    e.id.bytes[0] = static_cast<std::uint8_t>(entries.size() % 256);
    e.id.bytes[1] = static_cast<std::uint8_t>(entries.size() / 256);
    e.at_ms = static_cast<std::int64_t>(entries.size());
    e.content = std::move(content);
    entries.push_back(std::move(e));
  };
  const auto read = [&](Reading kind, Key key, double value) {
    write(ReadingTaken{kind, key, value, 0.1, "", ""});
  };
  write(SettingChosen{"sections", print_sections(job.strings.sections)});
  write(SettingChosen{"blow-target", "45.5 mm"});
  write(SettingChosen{"hammer-datum", "bench"});
  for (const PreparationKind& k : preparation_kinds())
    write(PreparationNoted{k.id, std::nullopt, PreparationState::found, ""});
  for (const HeightReading& r : job.readings)
    read(Reading::string_height, r.key, r.height.in(millimetre));
  // Without any in its section no hammer may be lowered.
  for (const Section& s : job.strings.sections) read(Reading::aftertouch, s.first, 1.2);
  for (const int k : {3, 28, 52, 85})
    read(Reading::datum_transfer, Key{k}, bench_offset + 0.05 * chance.normal());
  for (int i = 0; i < job.strings.compass.count(); ++i) {
    const Key key = job.strings.compass.at(i);
    const double stands = job.strings.at(key).in(millimetre)-blow + 0.5 * chance.normal();
    read(Reading::hammer_height, key, stands - bench_offset + 0.1 * chance.normal());
  }
  job.standing = fold(entries);
  return job;
}

// RMS distance of all targets from where they belong, mm.
double target_error(const Job& job, const Line& line) {
  double sum = 0;
  for (const NoteLine& n : line.notes) {
    const double error = n.target.in(millimetre) - (job.strings.at(n.key).in(millimetre)-blow);
    sum += error * error;
  }
  return std::sqrt(sum / static_cast<double>(line.notes.size()));
}

bool is_right(const Job& job, const Line& line) {
  return line.notes.size() == 88 && target_error(job, line) < 0.12 && line.order.size() > 30 &&
         !line.next_string.empty() && line.gate.open && line.transfer.ready;
}

void time_line(benchmark::State& state, Strings which) {
  const Job job = make_job(which);
  for ([[maybe_unused]] auto _ : state) {
    const auto line = calc_line(job.strings.compass, job.standing);
    if (!line || !is_right(job, *line)) state.SkipWithError("wrong answer");
  }
  state.counters["strings_read"] = static_cast<double>(job.readings.size());
}

void time_curves(benchmark::State& state, Strings which) {
  const Job job = make_job(which);
  for ([[maybe_unused]] auto _ : state) {
    const auto curve = fair(job.strings.sections, job.readings);
    if (!curve || curve->judgements[job.readings.size() / 3].doubt == Doubt::none)
      state.SkipWithError("wrong answer");
  }
}

void BM_LinePlainSamples(benchmark::State& s) { time_line(s, Strings::plain_samples); }
void BM_LineFullerSamples(benchmark::State& s) { time_line(s, Strings::fuller_samples); }
void BM_LineAllStrings(benchmark::State& s) { time_line(s, Strings::all); }
void BM_FairCurvesFullerSamples(benchmark::State& s) { time_curves(s, Strings::fuller_samples); }
void BM_FairCurvesAllStrings(benchmark::State& s) { time_curves(s, Strings::all); }

BENCHMARK(BM_LinePlainSamples)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_LineFullerSamples)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_LineAllStrings)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_FairCurvesFullerSamples)->Unit(benchmark::kMillisecond);
BENCHMARK(BM_FairCurvesAllStrings)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();

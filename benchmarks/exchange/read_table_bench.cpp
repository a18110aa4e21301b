// 100,000 readings in the long form, read from memory; target 1 s. Beside it in the same run, on
// the same bytes: the sqlite3 shell's own .import into a database in memory, and Python's csv
// module with its numbers turned to floats. Count and sum are checked in all three.
#include "exchange/reading_table.hpp"

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <string>

namespace {

using namespace batten;

constexpr int count = 100'000;

// Invented heights over 88 notes and many visits, of the usual two decimals; the sum in hundredths
// of a millimetre is a whole number, so that it can be compared exactly.
struct Bench {
  std::string text = "note,reading,value,unit,uncertainty,gauge\r\n";
  std::string wide = "note,string-height [mm],hammer-height [mm],dip [mm],let-off [mm]\r\n";
  std::string path = BATTEN_BENCH_FOLDER "/readings.csv";
  long hundredths = 0;

  Bench() {
    for (int i = 0; i < count; ++i) {
      const std::string note = note_name(Key{1 + i % 88});
      const int height = 18'000 + i * 37 % 4000;
      hundredths += height;
      text += fmt::format("{},string-height,{}.{:02},mm,0.1,height gauge\r\n", note, height / 100,
                          height % 100);
      if (i % 4 == 0) wide += fmt::format("{},187.{},141.2,10.05,1.8\r\n", note, i % 100);
    }
    std::ofstream(path, std::ios::binary) << text;
  }

  bool right(long rows, double sum) const {
    return rows == count && std::abs(sum * 100 - static_cast<double>(hundredths)) < 0.1;
  }
};

const Bench& bench() {
  static const Bench made;
  return made;
}

void BM_ReadLong(benchmark::State& state) {
  for (auto _ : state) {
    const auto table = read_table(bench().text, Compass{});
    double sum = 0;
    if (table)
      for (const auto& reading : table->good) sum += reading.value;
    if (!table || table->bad_rows > 0 || !bench().right(static_cast<long>(table->good.size()), sum))
      state.SkipWithError("wrong answer");
  }
  state.SetItemsProcessed(state.iterations() * count);
}

void BM_ReadWide(benchmark::State& state) {
  for (auto _ : state) {
    const auto table = read_table(bench().wide, Compass{});
    if (!table || table->bad_rows > 0 || table->good.size() != count)
      state.SkipWithError("wrong answer");
  }
  state.SetItemsProcessed(state.iterations() * count);
}

void BM_WriteLong(benchmark::State& state) {
  const auto table = read_table(bench().text, Compass{});
  for (auto _ : state) {
    const std::string text = write_long(table->good);
    if (text.size() < bench().text.size() - count * 3L) state.SkipWithError("wrong answer");
  }
  state.SetItemsProcessed(state.iterations() * count);
}

// Runs a program that prints "count sum"; its whole time counts, as a user waits for all of it.
void run_reference(benchmark::State& state, const std::string& command) {
  for (auto _ : state) {
    std::array<char, 256> line{};
    FILE* pipe = popen(command.c_str(), "r");
    const bool printed = pipe != nullptr && std::fgets(line.data(), line.size(), pipe) != nullptr;
    if (pipe != nullptr) pclose(pipe);
    long rows = 0;
    double sum = 0;
    if (!printed || std::sscanf(line.data(), "%ld %lf", &rows, &sum) != 2)
      state.SkipWithError("the program is not installed, or failed");
    else if (!bench().right(rows, sum))
      state.SkipWithError("wrong answer");
  }
  state.SetItemsProcessed(state.iterations() * count);
}

void BM_ReferenceSqliteShellImport(benchmark::State& state) {
  run_reference(state, fmt::format("sqlite3 :memory: -cmd '.mode csv' -cmd '.import {} t' "
                                   "-cmd '.mode list' -cmd '.separator \" \"' "
                                   "'SELECT count(*), sum(value) FROM t'",
                                   bench().path));
}

void BM_ReferencePythonCsv(benchmark::State& state) {
  run_reference(
      state,
      fmt::format("/usr/bin/python3 -c 'import csv\n"
                  "v = [float(r[\"value\"]) for r in csv.DictReader(open(\"{}\", newline=\"\"))]\n"
                  "print(len(v), sum(v))'",
                  bench().path));
}

BENCHMARK(BM_ReadLong)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(BM_ReadWide)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(BM_WriteLong)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(BM_ReferenceSqliteShellImport)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(BM_ReferencePythonCsv)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace

BENCHMARK_MAIN();

// 100,000 readings from a file into a store, durable when done; target 1 s. Beside it in the same
// run, on the same file: the sqlite3 shell's own .import into a database file, which checks nothing
// and keeps texts. Count and sum are checked in both.
#include "app/entries.hpp"
#include "app/pianos.hpp"
#include "app/tables.hpp"

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

namespace {

using namespace batten;

constexpr int reading_count = 100'000;
const std::string bench_folder = BATTEN_BENCH_FOLDER;

// Sum in hundredths of a millimetre: a whole number, so that it compares exactly.
long write_table(const std::string& path) {
  std::ofstream out(path, std::ios::binary);
  out << "note,reading,value,unit,uncertainty,gauge\r\n";
  long hundredths = 0;
  for (int i = 0; i < reading_count; ++i) {
    const int height = 18'000 + i * 37 % 4000;
    hundredths += height;
    out << fmt::format("{},string-height,{}.{:02},mm,0.1,height gauge\r\n",
                       note_name(Key{1 + i % 88}), height / 100, height % 100);
  }
  return hundredths;
}

struct Table {
  std::string path = bench_folder + "/import.csv";
  long hundredths = write_table(path);
};
const Table& table() {
  static const Table made;
  return made;
}

bool right(long rows, double sum) {
  return rows == reading_count &&
         std::abs(100 * sum - static_cast<double>(table().hundredths)) < 0.1;
}

void remove_store(const std::string& path) {
  for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove(path + tail);
}

void BM_ImportIntoStore(benchmark::State& state) {
  const std::string path = bench_folder + "/import.store";
  for (auto _ : state) {
    state.PauseTiming();
    table();
    remove_store(path);
    auto desk = open_desk(path, "bench");
    auto piano =
        desk ? add_piano(*desk, {"bench", "", Compass{}, ""}) : tl::unexpected(desk.error());
    if (!piano) {
      state.SkipWithError(piano.error().sentence().c_str());
      break;
    }
    state.ResumeTiming();
    auto outcome = import_table(*desk, *piano, table().path, false);
    state.PauseTiming();
    double sum = 0;
    auto now = standing(*desk, *piano);
    if (now)
      for (const Entry& e : now->readings) sum += std::get<ReadingTaken>(e.content).value;
    if (!outcome || !now || !right(static_cast<long>(now->readings.size()), sum))
      state.SkipWithError("wrong answer");
    state.ResumeTiming();
  }
  remove_store(path);
  state.SetItemsProcessed(state.iterations() * reading_count);
}
BENCHMARK(BM_ImportIntoStore)->Unit(benchmark::kMillisecond)->UseRealTime();

std::string output_of(const std::string& command) {
  std::string text;
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) return text;
  std::array<char, 256> block{};
  while (std::fgets(block.data(), block.size(), pipe) != nullptr) text += block.data();
  return pclose(pipe) == 0 ? text : std::string();
}

void BM_ReferenceSqliteShellImportToFile(benchmark::State& state) {
  const std::string path = bench_folder + "/reference.db";
  for (auto _ : state) {
    state.PauseTiming();
    table();
    remove_store(path);
    state.ResumeTiming();
    const std::string answer =
        output_of("sqlite3 -cmd 'PRAGMA synchronous=FULL' -cmd '.mode csv' '" + path +
                  "' '.import \"" + table().path +
                  "\" r' 'SELECT count(*) || \" \" || CAST(round(sum(value) * 100) AS INTEGER) "
                  "FROM r' 2>/dev/null");
    const std::string wanted = fmt::format("{} {}", reading_count, table().hundredths);
    if (answer.find(wanted) == std::string::npos) {
      state.SkipWithError("the sqlite3 shell is not there or answered otherwise");
      break;
    }
  }
  remove_store(path);
}
BENCHMARK(BM_ReferenceSqliteShellImportToFile)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace

BENCHMARK_MAIN();

// Opening one piano of a large store, beside the plainest loop over sqlite3 that reads the same
// rows. Each run takes another piano; answers are checked.
#include "benchmarks/records/big_store.hpp"
#include "core/journal/fold.hpp"
#include "records/identity.hpp"
#include "records/store.hpp"

#include <benchmark/benchmark.h>

#include <cmath>
#include <sqlite3.h>

namespace batten::benchmarks {
namespace {

// Strides over all pianos, never the same twice in a row.
std::uint32_t next_piano(std::uint32_t number) { return (number + 177) % pianos + 1; }

bool is_right(std::uint32_t piano, std::size_t count, double sum) {
  return count == entries_per_piano && std::abs(sum - big_store_checksum(piano)) < 1e-6;
}

void open_one_of_500_pianos(benchmark::State& state) {
  const auto file = big_store();
  std::uint32_t piano = 1;
  for (auto _ : state) {
    Store store = Store::open(file);
    const std::vector<Entry> journal = store.entries(big_store_piano(piano).id).value();
    state.PauseTiming();
    double sum = 0;
    for (const Entry& entry : journal) sum += std::get<ReadingTaken>(entry.content).value;
    if (!is_right(piano, journal.size(), sum)) state.SkipWithError("wrong answer");
    piano = next_piano(piano);
    state.ResumeTiming();
  }
}
BENCHMARK(open_one_of_500_pianos)->Unit(benchmark::kMillisecond)->UseRealTime();

// Each column by the function of its own type.
void fetch_all(sqlite3_stmt* rows) {
  for (int column = 0; column < sqlite3_column_count(rows); ++column) {
    switch (sqlite3_column_type(rows, column)) {
      case SQLITE_INTEGER:
        benchmark::DoNotOptimize(sqlite3_column_int64(rows, column));
        break;
      case SQLITE_FLOAT:
        benchmark::DoNotOptimize(sqlite3_column_double(rows, column));
        break;
      case SQLITE_TEXT:
        benchmark::DoNotOptimize(sqlite3_column_text(rows, column));
        break;
      case SQLITE_BLOB:
        benchmark::DoNotOptimize(sqlite3_column_blob(rows, column));
        break;
      default:
        break;
    }
  }
}

// The reference: the same file, the same rows, every column fetched and nothing made of it.
void plain_sqlite_loop(benchmark::State& state) {
  const auto file = big_store();
  std::uint32_t piano = 1;
  for (auto _ : state) {
    sqlite3* connection = nullptr;
    sqlite3_stmt* rows = nullptr;
    sqlite3_open(file.c_str(), &connection);
    sqlite3_prepare_v2(connection,
                       "SELECT * FROM entry WHERE piano = (SELECT number FROM piano WHERE id = ?)",
                       -1, &rows, nullptr);
    const Uuid id = big_store_piano(piano).id;
    sqlite3_bind_blob(rows, 1, id.bytes.data(), 16, SQLITE_STATIC);
    std::size_t count = 0;
    double sum = 0;
    while (sqlite3_step(rows) == SQLITE_ROW) {
      ++count;
      fetch_all(rows);
      sum += sqlite3_column_double(rows, 9);  // value
    }
    sqlite3_finalize(rows);
    sqlite3_close(connection);
    state.PauseTiming();
    if (!is_right(piano, count, sum)) state.SkipWithError("wrong answer");
    piano = next_piano(piano);
    state.ResumeTiming();
  }
}
BENCHMARK(plain_sqlite_loop)->Unit(benchmark::kMillisecond)->UseRealTime();

// The list a technician chooses from, with visits and counts.
void list_500_pianos(benchmark::State& state) {
  const auto file = big_store();
  for (auto _ : state) {
    Store store = Store::open(file);
    const std::vector<PianoSummary> all = store.pianos();
    if (all.size() != pianos || all.front().visit_count != int{visits_per_piano} ||
        all.front().entry_count != entries_per_piano) {
      state.SkipWithError("wrong answer");
    }
  }
}
BENCHMARK(list_500_pianos)->Unit(benchmark::kMillisecond)->UseRealTime();

// What holds now, from 4,000 entries.
void fold_one_journal(benchmark::State& state) {
  const std::vector<Entry> journal =
      Store::open(big_store()).entries(big_store_piano(1).id).value();
  for (auto _ : state) {
    const Standing standing = fold(journal);
    if (standing.readings.size() != entries_per_piano) state.SkipWithError("wrong answer");
  }
}
BENCHMARK(fold_one_journal)->Unit(benchmark::kMillisecond);

// One reading, durable: bound by the disk's sync.
void append_one_reading(benchmark::State& state) {
  const std::filesystem::path file = std::string(BATTEN_BIG_STORE) + ".append";
  for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(file.string() + end);
  Store store = Store::open(file);
  const Piano piano = big_store_piano(1);
  const Visit visit{make_uuid(), 0, ""};
  must(store.add_piano(piano));
  must(store.add_visit(piano.id, visit));
  std::size_t count = 0;
  for (auto _ : state) {
    const Entry entry{make_uuid(), visit.id, 0, "Ada",
                      ReadingTaken{Reading::drop, Key{40}, 1.5, 0.1, "", "1.5"}};
    store.append(piano.id, std::span<const Entry>(&entry, 1)).value();
    ++count;
  }
  if (store.entries(piano.id).value().size() != count) state.SkipWithError("wrong answer");
}
BENCHMARK(append_one_reading)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
}  // namespace batten::benchmarks

BENCHMARK_MAIN();

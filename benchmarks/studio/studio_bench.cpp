// The studio's list of 500 pianos × 40 visits, beside the plainest loop over sqlite3 that fetches
// the same rows; and how long it takes when no outlook is kept.
#include "app/studio_job.hpp"
#include "records/identity.hpp"
#include "workshop/chance.hpp"

#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <sqlite3.h>
#include <stdexcept>
#include <string>

namespace batten {
namespace {

namespace fs = std::filesystem;

constexpr int pianos = 500, visits = 40;
constexpr std::int64_t day = 86'400'000, begun = 1'500'000'000'000, between = 60 * day;
constexpr std::int64_t today = begun + visits * between;

void must(const Result<void>& result) {
  if (!result) throw std::runtime_error(result.error().sentence());
}

// Blow, let-off and dip at eight notes each visit, wandering from visit to visit; two let-offs set
// again. 30 entries a visit, 600,000 in all.
std::vector<Entry> a_visit(const Visit& visit, workshop::Chance& chance,
                           std::array<std::array<double, 8>, 3>& at) {
  constexpr std::array kinds{Reading::blow, Reading::let_off, Reading::dip};
  constexpr std::array wander{0.15, 0.1, 0.04};
  constexpr std::array keys{4, 16, 28, 40, 52, 64, 76, 88};
  std::vector<Entry> list;
  const auto write = [&](EntryContent content) {
    list.push_back({make_uuid(), visit.id,
                    visit.begun_ms + 30'000 * static_cast<std::int64_t>(list.size()), "Ada",
                    std::move(content)});
  };
  const auto read = [&](std::size_t r, std::size_t k) {
    write(ReadingTaken{kinds[r], Key{keys[k]}, at[r][k] + 0.05 * chance.normal(), 0.05, "", ""});
  };
  write(ReadingTaken{Reading::humidity, std::nullopt, 50 + 8 * chance.normal(), 2, "", ""});
  for (std::size_t r = 0; r < kinds.size(); ++r)
    for (std::size_t k = 0; k < keys.size(); ++k) {
      at[r][k] += wander[r] * chance.normal();
      read(r, k);
    }
  for (int again = 0; again < 2; ++again) {
    const auto k = static_cast<std::size_t>(chance.between(0, 7));
    write(MoveMade{Adjuster::let_off_button, Key{keys[k]}, 1.0 / 16, ""});
    at[1][k] = 1.8;
    read(1, k);
  }
  return list;
}

void build(const fs::path& file) {
  Store store = Store::open(file, {.synced = false, .checkpoint_pages = 20'000});
  workshop::Chance chance(500);
  for (int p = 0; p < pianos; ++p) {
    const Piano piano{
        make_uuid(), fmt::format("Piano {}", p + 1), fmt::format("House {}", p / 5), 1, 88, begun};
    must(store.add_piano(piano));
    std::array<std::array<double, 8>, 3> at{};
    at[0].fill(45.5);
    at[1].fill(1.8);
    at[2].fill(10);
    for (int v = 0; v < visits; ++v) {
      const Visit visit{make_uuid(), begun + v * between, fmt::format("visit {}", v + 1)};
      must(store.add_visit(piano.id, visit));
      store.append(piano.id, a_visit(visit, chance, at)).value();
    }
    if (p % 100 == 99) std::fprintf(stderr, "built %d of %d pianos\n", p + 1, pianos);
  }
}

fs::path studio_store() {
  const fs::path file = BATTEN_STUDIO_STORE;
  if (fs::exists(file)) return file;
  const fs::path unfinished = file.string() + ".unfinished";
  for (const char* end : {"", "-wal", "-shm"}) fs::remove(unfinished.string() + end);
  build(unfinished);
  fs::rename(unfinished, file);
  return file;
}

Desk desk_at(std::int64_t now) {
  return {Store::open(studio_store()), "", [now] { return now; }, make_uuid};
}

bool is_right(const StudioList& list, std::size_t reckoned) {
  if (list.pianos.size() != pianos || list.reckoned != reckoned) return false;
  for (const StudioPiano& p : list.pianos)
    if (p.visits != visits || !p.share_now || !p.minutes || p.due == DueState::unknown)
      return false;
  return true;
}

void studio_list_of_500_pianos(benchmark::State& state) {
  {
    Desk desk = desk_at(today);
    studio_list(desk).value();  // what is not kept yet
  }
  for (auto _ : state) {
    Desk desk = desk_at(today);
    if (!is_right(studio_list(desk).value(), 0)) state.SkipWithError("wrong answer");
  }
}
BENCHMARK(studio_list_of_500_pianos)->Unit(benchmark::kMillisecond)->UseRealTime();

void studio_list_and_a_day(benchmark::State& state) {
  Desk desk = desk_at(today);
  studio_list(desk).value();
  for (auto _ : state) {
    const StudioList list = studio_list(desk).value();
    const StudioDay plan = studio_day(list, {8, {}}).value();
    if (plan.stops.size() + plan.left_out.size() != pianos || plan.minutes > 480)
      state.SkipWithError("wrong answer");
  }
}
BENCHMARK(studio_list_and_a_day)->Unit(benchmark::kMillisecond)->UseRealTime();

// One piano's journal has grown since: all but one are kept.
void studio_list_after_an_entry(benchmark::State& state) {
  Desk desk = desk_at(today);
  const StudioList first = studio_list(desk).value();
  const Uuid piano = first.pianos.front().piano.id;
  const Uuid visit = desk.store.latest_visit(piano).value()->id;
  for (auto _ : state) {
    state.PauseTiming();
    const Entry one{make_uuid(), visit, today, "Ada", Remark{std::nullopt, "rain"}};
    desk.store.append(piano, std::span<const Entry>(&one, 1)).value();
    state.ResumeTiming();
    if (!is_right(studio_list(desk).value(), 1)) state.SkipWithError("wrong answer");
  }
}
BENCHMARK(studio_list_after_an_entry)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(20);

// The reference: the same file and rows, every column fetched and nothing made of it.
void plain_sqlite_studio_loop(benchmark::State& state) {
  {
    Desk desk = desk_at(today);
    studio_list(desk).value();
  }
  for (auto _ : state) {
    sqlite3* connection = nullptr;
    sqlite3_stmt* rows = nullptr;
    sqlite3_open(BATTEN_STUDIO_STORE, &connection);
    sqlite3_prepare_v2(connection,
                       "SELECT piano.id, name, place, lowest_key, highest_key, "
                       "(SELECT count(*) FROM visit WHERE visit.piano = piano.number), "
                       "(SELECT max(seq) FROM entry WHERE entry.piano = piano.number), "
                       "outlook.revision, outlook.model, outlook.text FROM piano "
                       "JOIN outlook ON outlook.piano = piano.number ORDER BY name",
                       -1, &rows, nullptr);
    int count = 0;
    std::int64_t seen = 0;
    while (sqlite3_step(rows) == SQLITE_ROW) {
      ++count;
      for (const int column : {0, 1, 2, 8, 9}) seen += sqlite3_column_bytes(rows, column);
      for (const int column : {3, 4, 5, 6, 7}) seen += sqlite3_column_int64(rows, column);
    }
    benchmark::DoNotOptimize(seen);
    sqlite3_finalize(rows);
    sqlite3_close(connection);
    if (count != pianos) state.SkipWithError("wrong answer");
  }
}
BENCHMARK(plain_sqlite_studio_loop)->Unit(benchmark::kMillisecond)->UseRealTime();

// Nothing kept that still holds: 40 days on, every outlook is made anew, once.
void cold_list_of_500_pianos(benchmark::State& state) {
  std::int64_t now = today;
  for (auto _ : state) {
    now += 40 * day;
    Desk desk = desk_at(now);
    if (!is_right(studio_list(desk).value(), pianos)) state.SkipWithError("wrong answer");
  }
}
BENCHMARK(cold_list_of_500_pianos)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);

}  // namespace
}  // namespace batten

BENCHMARK_MAIN();

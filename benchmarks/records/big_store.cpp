#include "benchmarks/records/big_store.hpp"

#include "records/store.hpp"

#include <cstdio>
#include <stdexcept>
#include <string>
#include <vector>

namespace batten::benchmarks {
namespace {

namespace fs = std::filesystem;

// Bits well mixed from a number (the finaliser of MurmurHash3), so that identities fall all over
// the index as random ones do.
std::uint64_t mix(std::uint64_t x) {
  x ^= x >> 33U;
  x *= 0xff51afd7ed558ccdU;
  x ^= x >> 33U;
  x *= 0xc4ceb9fe1a85ec53U;
  return x ^ x >> 33U;
}

Uuid identity(std::uint64_t family, std::uint64_t number) {
  Uuid id;
  const std::uint64_t high = mix(family * 1'000'000'007U + number + 1);
  const std::uint64_t low = mix(high + 1);
  for (std::size_t i = 0; i < 8; ++i) {
    id.bytes[i] = static_cast<std::uint8_t>(high >> (8 * i) & 255U);
    id.bytes[8 + i] = static_cast<std::uint8_t>(low >> (8 * i) & 255U);
  }
  return id;
}

// Millimetres in steps of 0.01, so that sums of a few thousand agree to far better than that.
double value_of(std::uint32_t piano, std::uint32_t entry) {
  return 180 + 0.01 * static_cast<double>(mix(std::uint64_t{piano} * 100'000 + entry) % 2000);
}

std::vector<Entry> journal_of(std::uint32_t piano, const std::vector<Visit>& visits) {
  std::vector<Entry> journal;
  journal.reserve(entries_per_piano);
  for (std::uint32_t n = 0; n < entries_per_piano; ++n) {
    const Visit& visit = visits[n / readings_per_visit];
    const double value = value_of(piano, n);
    journal.push_back({identity(3, std::uint64_t{piano} * 100'000 + n), visit.id,
                       visit.begun_ms + 30'000 * std::int64_t{n % readings_per_visit}, "Ada",
                       ReadingTaken{n % 2 == 0 ? Reading::string_height : Reading::hammer_height,
                                    Key{static_cast<int>(n % 88) + 1}, value, 0.1, "gauge 2",
                                    std::to_string(value)}});
  }
  return journal;
}

void build(const fs::path& file) {
  // Not synced: the file is made under another name and only renamed when whole.
  Store store = Store::open(file, {.synced = false, .checkpoint_pages = 20'000});
  for (std::uint32_t number = 1; number <= pianos; ++number) {
    const Piano piano = big_store_piano(number);
    must(store.add_piano(piano));
    std::vector<Visit> visits;
    for (std::uint32_t v = 0; v < visits_per_piano; ++v) {
      visits.push_back({identity(2, std::uint64_t{number} * 1000 + v),
                        1'500'000'000'000 + 86'400'000 * std::int64_t{90} * v,
                        "visit " + std::to_string(v + 1)});
      must(store.add_visit(piano.id, visits.back()));
    }
    store.append(piano.id, journal_of(number, visits)).value();
    if (number % 50 == 0) std::fprintf(stderr, "built %u of %u pianos\n", number, pianos);
  }
}

}  // namespace

void must(const Result<void>& result) {
  if (!result) throw std::runtime_error(result.error().sentence());
}

Piano big_store_piano(std::uint32_t number) {
  return {identity(1, number),       "Piano " + std::to_string(number), "Hall", 1, 88,
          1'500'000'000'000 + number};
}

double big_store_checksum(std::uint32_t number) {
  double sum = 0;
  for (std::uint32_t n = 0; n < entries_per_piano; ++n) sum += value_of(number, n);
  return sum;
}

fs::path big_store() {
  const fs::path file = BATTEN_BIG_STORE;
  if (fs::exists(file)) return file;
  const fs::path unfinished = file.string() + ".unfinished";
  for (const char* end : {"", "-wal", "-shm"}) fs::remove(unfinished.string() + end);
  build(unfinished);
  fs::rename(unfinished, file);
  return file;
}

}  // namespace batten::benchmarks

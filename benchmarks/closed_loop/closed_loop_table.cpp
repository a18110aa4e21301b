// Runs the closed loop on many pianos with all cores and writes the page about it.
//
//   closed_loop_table [--pianos 300] [--out docs/theory/closed-loop.md] [--first 1]
#include "benchmarks/closed_loop/table_text.hpp"
#include "workshop/batten_technician.hpp"
#include "workshop/mechanism_piano.hpp"
#include "workshop/reference_technicians.hpp"
#include "workshop/table_piano.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

namespace {

using namespace batten::workshop;

PianoOutcome regulate(const HiddenPiano& found, std::uint64_t seed) {
  PianoOutcome out;
  const std::unique_ptr<Technician> all[] = {batten_technician(), by_the_book(), skilled()};
  for (std::size_t w = 0; w < technician_count; ++w) {
    const auto piano = found.copy();
    out.by[w] = run(*piano, *all[w], seed);
  }
  return out;
}

}  // namespace

int main(int argc, char** argv) {
  std::size_t pianos = 300;
  std::uint64_t first = 1;
  std::string out = "docs/theory/closed-loop.md";
  for (int i = 1; i + 1 < argc; i += 2) {
    const std::string_view name = argv[i];
    if (name == "--pianos") pianos = std::strtoull(argv[i + 1], nullptr, 10);
    if (name == "--first") first = std::strtoull(argv[i + 1], nullptr, 10);
    if (name == "--out") out = argv[i + 1];
  }
  LoopResult result;
  result.mechanism.resize(pianos);
  result.table.resize(pianos);
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t job = next++; job < 2 * pianos; job = next++) {
      const std::uint64_t seed = first + job / 2;
      if (job % 2 == 0)
        result.mechanism[job / 2] = regulate(*make_mechanism_piano(seed), seed);
      else
        result.table[job / 2] = regulate(*make_table_piano(seed), seed);
    }
  };
  const auto begun = std::chrono::steady_clock::now();
  {
    std::vector<std::jthread> hands;
    for (unsigned i = 0; i < std::max(1U, std::thread::hardware_concurrency()); ++i)
      hands.emplace_back(work);
  }
  const double seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
  std::ofstream(out) << table_text(result);
  std::printf("%zu pianos of each kind, three technicians: %.0f s; written to %s\n", pianos,
              seconds, out.c_str());
  return 0;
}

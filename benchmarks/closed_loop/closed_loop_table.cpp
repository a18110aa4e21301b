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

using namespace batten;
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
  const std::size_t few = (pianos + 4) / 5;
  const PlanOptions usual;
  for (const double from : {usual.act_from, 0.15, 0.3})
    result.thresholds.push_back(
        {from, from == usual.act_from ? usual.reread_from : from, std::vector<Outcome>(few)});
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    const std::size_t loops = 2 * pianos, jobs = loops + few * result.thresholds.size();
    for (std::size_t job = next++; job < jobs; job = next++) {
      if (job >= loops) {
        Threshold& t = result.thresholds[(job - loops) / few];
        const std::uint64_t seed = first + (job - loops) % few;
        BattenStyle style;
        style.options.act_from = t.act_from;
        style.options.reread_from = t.reread_from;
        t.pianos[(job - loops) % few] =
            run(*make_mechanism_piano(seed), *batten_technician(style), seed);
        continue;
      }
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

// Writes docs/theory/drift-figures.md, so that no figure in it is typed by hand.
//   write_drift_figures OUT [KEPT]    with KEPT: fails if that file says something else
#include "tests/drift/trial.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <fstream>
#include <iostream>
#include <iterator>
#include <sstream>
#include <string>

namespace batten::trial {
namespace {

constexpr int piano_count = 200, date_count = 100, young_count = 100;

std::string percent(Counted c) {
  return fmt::format("{:.1f} ± {:.1f}", 100 * c.mean, 100 * c.error);
}

Figures of(workshop::AgingLaw law, int pianos, int visits, int months) {
  Wanted wanted;
  wanted.law = law;
  wanted.pianos = pianos;
  wanted.visits = visits;
  wanted.months = months;
  return try_pianos(wanted);
}

void bands(std::ostream& out, int pianos, int visits) {
  out << "| law | all together, % | at 1 month | 6 | 12 | 24 | single readings, % | band at a "
         "year, % | "
         "true share at a year, % |\n|---|---|---|---|---|---|---|---|---|\n";
  for (std::size_t l = 0; l < workshop::aging_law_count; ++l) {
    const auto law = static_cast<workshop::AgingLaw>(l);
    const Figures f = of(law, pianos, visits, 24);
    out << fmt::format("| {} | {} | {:.0f} | {:.0f} | {:.0f} | {:.0f} | {} | {:.1f} | {:.1f} |\n",
                       workshop::name_of(law), percent(f.whole), 100 * f.whole_at[0].mean,
                       100 * f.whole_at[2].mean, 100 * f.whole_at[3].mean, 100 * f.whole_at[5].mean,
                       percent(f.readings), 100 * f.mean_width, 100 * f.mean_share);
  }
}

void dates(std::ostream& out) {
  out << "| law | passed the limit | median error, % | median bias, % | 90 % span held it, % |\n"
         "|---|---|---|---|---|\n";
  for (std::size_t l = 0; l < workshop::aging_law_count; ++l) {
    const auto law = static_cast<workshop::AgingLaw>(l);
    const Figures f = of(law, date_count, 4, 60);
    out << fmt::format("| {} | {} of {} | {:.0f} | {:+.0f} | {:.0f} |\n", workshop::name_of(law),
                       f.crossings, date_count, 100 * f.median_error, 100 * f.median_bias,
                       100 * f.span_covers);
  }
}

std::string page() {
  std::ostringstream out;
  out << "# Drift: what the forecast does on invented pianos\n\n"
         "Written by `write_drift_figures`; a test holds it to the code. The pianos, their laws "
         "and "
         "their visits are in `workshop/aging.hpp`, the model in [drift.md](drift.md). Only the "
         "law "
         "“as believed” is the model’s own; its effects are drawn from the model’s priors, its "
         "room "
         "by another isotherm, with days’ weather.\n\n"
         "## Nine bands in ten should hold\n\n"
         "Share of the 90 % bands that held what came, at 6, 12, 18 and 24 months, ± standard "
         "error; "
         "and for all readings together at single months. ";
  out << fmt::format(
      "{} pianos a law, read and set at four visits over 15 to 36 months, felt new in "
      "four of ten, hours played not known.\n\n",
      piano_count);
  bands(out, piano_count, 4);
  out << fmt::format("\nThe same after one visit only ({} pianos a law): all from priors.\n\n",
                     young_count);
  bands(out, young_count, 1);
  out << fmt::format(
      "\n## The date to come back\n\n{} pianos a law after four visits, looked ahead and watched "
      "for "
      "five years, limit 20 %: how far the suggested date lies from the day on which the limit was "
      "really passed, as a share of the time until then.\n\n",
      date_count);
  dates(out);
  out << "\nBands are widened by a quarter (`doubt`), which was chosen on such pianos; without it "
         "they "
         "hold about 81 % (all together) and 84 % (single readings) under the model’s own law, for "
         "shocks are integrated out approximately and the futures are two hundred.\n";
  return out.str();
}

}  // namespace
}  // namespace batten::trial

int main(int count, char** words) {
  if (count < 2) return EXIT_FAILURE;
  const std::string text = batten::trial::page();
  std::ofstream(words[1]) << text;
  if (count < 3) return EXIT_SUCCESS;
  std::ifstream in(words[2]);
  const std::string kept{std::istreambuf_iterator<char>(in), {}};
  if (kept == text) return EXIT_SUCCESS;
  std::cerr << words[2] << " does not say what the code gives; build the target drift_figures.\n";
  return EXIT_FAILURE;
}

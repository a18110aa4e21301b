// "handover", "back": a visit on paper, and paper back in the journal.
#pragma once

#include "cli/command_line.hpp"
#include "cli/subcommand.hpp"

#include <string>

namespace batten::cli {

// Of "sheet": bench sheets instead of the line.
struct BenchSheetWords {
  std::string file, pass, language;  // pass empty: all
  bool large = false, letter = false, picture = false;
  int sheet = 1;
  double dpi = 150;
};
int bench_sheet(const Common& common, const BenchSheetWords& words);

void add_paper_commands(CLI::App& app, const Common& common, Command& chosen);

}  // namespace batten::cli

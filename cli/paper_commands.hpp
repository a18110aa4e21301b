// "handover", "back": a visit on paper, and paper back in the journal.
#pragma once

#include "cli/command_line.hpp"
#include "cli/subcommand.hpp"

namespace batten::cli {

void add_paper_commands(CLI::App& app, const Common& common, Command& chosen);

}  // namespace batten::cli

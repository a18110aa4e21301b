// "visits": what is on record, and two of them compared.
#pragma once

#include "cli/command_line.hpp"
#include "cli/subcommand.hpp"

namespace batten::cli {

void add_visits_commands(CLI::App& app, const Common& common, Command& chosen);

}  // namespace batten::cli

// "template": gauges to cut.
#pragma once

#include "cli/command_line.hpp"
#include "cli/subcommand.hpp"

namespace batten::cli {

void add_gauge_commands(CLI::App& app, const Common& common, Command& chosen);

}  // namespace batten::cli

// What is kept beside journals and taken elsewhere: bundles, backups, the workshop's settings.
#pragma once

#include "cli/command_line.hpp"
#include "cli/subcommand.hpp"

namespace batten::cli {

void add_data_commands(CLI::App& app, const Common& common, Command& chosen);

// A copy of the store where the last is a day old, after any command. Whatever goes wrong is said
// aside; the command has done its work.
void back_up_if_due(const Common& common);

}  // namespace batten::cli

// "drift": how the piano will wander, when to come back, what to look at first.
#pragma once

#include "app/drift_job.hpp"
#include "cli/command_line.hpp"
#include "cli/subcommand.hpp"

#include <string>

namespace batten::cli {

void add_drift_commands(CLI::App& app, const Common& common, Command& chosen);

// Lines of at most 100 columns.
std::string drift_text(const Piano& piano, const Outlook& outlook, bool inches);
std::string checks_text(const FirstChecks& checks, bool inches);

}  // namespace batten::cli

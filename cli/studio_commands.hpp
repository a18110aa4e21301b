// "due": when every piano is due, and a day's plan.
#pragma once

#include "app/studio_job.hpp"
#include "cli/command_line.hpp"
#include "cli/subcommand.hpp"

#include <optional>
#include <string>

namespace batten::cli {

void add_studio_commands(CLI::App& app, const Common& common, Command& chosen);

// As the terminal shows it; `all`: those too that are not due within half a year.
std::string studio_text(const StudioList& list, bool all);
std::string day_text(const StudioList& list, const StudioDay& day);

}  // namespace batten::cli

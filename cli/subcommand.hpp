// How a command is added to the parser. Sources that add their own keep the parsed words in a
// shared pointer that the command holds.
#pragma once

#include <CLI/CLI.hpp>

#include <functional>
#include <string>
#include <utility>

namespace batten::cli {

using Command = std::function<int()>;

// A subcommand that, when chosen, becomes the work to do.
inline CLI::App* command(CLI::App& app, Command& chosen, const char* name, const char* what,
                         const std::string& examples, Command work) {
  CLI::App* sub = app.add_subcommand(name, what);
  sub->footer("Examples:\n" + examples);
  sub->fallthrough();  // --json, --store … are understood behind the command too
  sub->callback([&chosen, work = std::move(work)] { chosen = work; });
  return sub;
}

}  // namespace batten::cli

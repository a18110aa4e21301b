// The architecture's rules, as functions over text: each takes what it judges and returns one
// sentence for every violation, none when all is well. None of them reads a file.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace batten::architecture {

// A source file, its path from the root with '/'.
struct Source {
  std::string path;
  std::string text;
};

// A module as declared: its folder from the root and the modules it may include.
struct Module {
  std::string path;
  std::vector<std::string> depends;
};

using Violations = std::vector<std::string>;

// Reads "path:dep,dep" lines. A line without a colon is returned as a module without a path.
std::vector<Module> parse_modules(std::string_view text);

// The module a file belongs to: the longest module path that is a folder above it. Null if none.
const Module* module_of(const std::vector<Module>& modules, std::string_view path);

// Among the declarations: doubled or unnamed modules, unknown dependencies, cycles, and
// dependencies that do not point down: cli over server and workshop over json over app over
// records, reports, exchange, profiles and drawings, which do not know each other, over core. Only
// cli may use workshop.
Violations check_declarations(const std::vector<Module>& modules);

// Every source outside tests and benchmarks lies in a module.
Violations check_belonging(const std::vector<Module>& modules, const Source& source);

// Every #include "…" is of the source's own module or of one it declares itself; a dependency's
// dependency does not count. Sources of no module are left to check_belonging.
Violations check_includes(const std::vector<Module>& modules, const Source& source);

// No module declares what none of its sources includes.
Violations check_declared_is_used(const std::vector<Module>& modules,
                                  const std::vector<Source>& sources);

// Outside libraries stay in their rooms: SQL in records/, JSON in json/, server/ and profiles/,
// sockets in server/, the command line in cli/, drawing in reports/, CSV in exchange/, property
// tests and their like nowhere in what users get.
Violations check_outside_libraries(const Source& source);

// core/ is pure: headers from a list only, and no word that throws, prints, reads the clock, the
// environment or a file, starts a thread or draws a random number. Other sources pass.
Violations check_purity(const Source& source);

// At most 500 lines, #pragma once in headers, no folder that is named for nothing in particular.
Violations check_form(const Source& source);

}  // namespace batten::architecture

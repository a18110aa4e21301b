#include "tests/architecture/rules.hpp"

#include "tests/architecture/source_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>

namespace batten::architecture {
namespace {

constexpr int most_lines = 500;

std::vector<std::string> split(std::string_view text, char separator) {
  std::vector<std::string> parts;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find(separator), text.size());
    if (end > 0) parts.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return parts;
}

bool is_inside(std::string_view path, std::string_view folder) {
  return path.size() > folder.size() && path.starts_with(folder) && path[folder.size()] == '/';
}

std::string top_folder(std::string_view path) {
  return std::string(path.substr(0, path.find('/')));
}

bool is_header(std::string_view path) { return path.ends_with(".hpp") || path.ends_with(".h"); }

// Higher may use lower; equals may not use each other.
std::optional<int> height_of(const std::string& folder) {
  static const std::map<std::string, int> heights{
      {"core", 0},     {"records", 1},  {"reports", 1}, {"exchange", 1},
      {"profiles", 1}, {"drawings", 1}, {"fitting", 1}, {"app", 2},
      {"json", 3},     {"workshop", 3}, {"server", 4},  {"cli", 5},
  };
  const auto found = heights.find(folder);
  return found == heights.end() ? std::nullopt : std::optional(found->second);
}

const Module* module_named(const std::vector<Module>& modules, std::string_view path) {
  const auto found = std::find_if(modules.begin(), modules.end(),
                                  [&](const Module& module) { return module.path == path; });
  return found == modules.end() ? nullptr : &*found;
}

void check_direction(const Module& module, const std::string& dependency, Violations& violations) {
  const std::string from = top_folder(module.path);
  const std::string to = top_folder(dependency);
  if (to == "workshop" && from != "workshop" && from != "cli") {
    violations.push_back(fmt::format("{} uses the workshop; only cli and tests may.", module.path));
    return;
  }
  const std::optional<int> above = height_of(from);
  const std::optional<int> below = height_of(to);
  if (!above || !below) {
    violations.push_back(
        fmt::format("{} → {}: a folder without a place in the order.", module.path, dependency));
  } else if (from != to && *below >= *above) {
    violations.push_back(fmt::format("{} → {} does not point down.", module.path, dependency));
  }
}

// Depth-first; `open` holds the way from the start to `module`.
void find_cycles(const std::vector<Module>& modules, const Module& module,
                 std::vector<std::string>& open, std::set<std::string>& closed,
                 Violations& violations) {
  const auto seen = std::find(open.begin(), open.end(), module.path);
  if (seen != open.end()) {
    violations.push_back(
        fmt::format("{} → {} is a circle.", fmt::join(seen, open.end(), " → "), module.path));
    return;
  }
  if (closed.contains(module.path)) return;
  open.push_back(module.path);
  for (const std::string& dependency : module.depends) {
    if (const Module* next = module_named(modules, dependency)) {
      find_cycles(modules, *next, open, closed, violations);
    }
  }
  open.pop_back();
  closed.insert(module.path);
}

// An outside header by how its name begins, and the only top folders that may include it.
struct Library {
  std::string_view header;
  std::vector<std::string_view> rooms;
};

const std::vector<Library>& libraries() {
  static const std::vector<Library> list{
      {"sqlite3", {"records"}},
      {"nlohmann/", {"json", "profiles", "exchange", "server"}},
      {"cairo", {"reports"}},
      {"pango", {"reports"}},
      {"csv.h", {"exchange"}},
      {"CLI/", {"cli"}},
      {"ceres/", {"fitting"}},
      {"boost/", {"server"}},
      {"openssl/", {"server", "exchange"}},
      {"qrencode.h", {"server"}},
      {"qpdf/", {"reports"}},
      {"lcms2.h", {"reports"}},
      {"jpeglib.h", {"reports"}},
      {"gtest/", {}},
      {"gmock/", {}},
      {"rapidcheck", {}},
      {"benchmark/", {}},
  };
  return list;
}

// What a calculation needs and no operating system: <cctype> and <locale> are left out because they
// depend on the locale, <cstdlib>, <chrono>, <thread>, <random> and the streams on the world.
// immintrin: the processor's own instructions, for eight notes at once.
constexpr std::array<std::string_view, 46> pure_headers{
    "algorithm",    "array",         "bit",
    "bitset",       "cassert",       "cfloat",
    "charconv",     "climits",       "cmath",
    "compare",      "complex",       "concepts",
    "cstddef",      "cstdint",       "cstring",
    "deque",        "functional",    "initializer_list",
    "iterator",     "limits",        "list",
    "map",          "memory",        "numbers",
    "numeric",      "optional",      "queue",
    "ranges",       "ratio",         "set",
    "span",         "stack",         "string",
    "string_view",  "system_error",  "tuple",
    "type_traits",  "unordered_map", "unordered_set",
    "utility",      "variant",       "vector",
    "fmt/format.h", "fmt/core.h",    "tl/expected.hpp",
    "immintrin.h",
};

constexpr std::array impure_words{
    std::string_view("throw"),
    std::string_view("try"),
    std::string_view("catch"),
    // printing
    std::string_view("printf"),
    std::string_view("fprintf"),
    std::string_view("puts"),
    std::string_view("fputs"),
    std::string_view("putchar"),
    std::string_view("print"),
    std::string_view("println"),
    std::string_view("cout"),
    std::string_view("cerr"),
    std::string_view("clog"),
    std::string_view("stdout"),
    std::string_view("stderr"),
    // files and other input
    std::string_view("fopen"),
    std::string_view("freopen"),
    std::string_view("FILE"),
    std::string_view("fstream"),
    std::string_view("ifstream"),
    std::string_view("ofstream"),
    std::string_view("filesystem"),
    std::string_view("cin"),
    std::string_view("getchar"),
    std::string_view("scanf"),
    std::string_view("mmap"),
    std::string_view("getenv"),
    std::string_view("setenv"),
    // clock
    std::string_view("chrono"),
    std::string_view("system_clock"),
    std::string_view("steady_clock"),
    std::string_view("gettimeofday"),
    std::string_view("clock_gettime"),
    std::string_view("localtime"),
    std::string_view("gmtime"),
    std::string_view("strftime"),
    // threads and shared state
    std::string_view("jthread"),
    std::string_view("pthread_create"),
    std::string_view("mutex"),
    std::string_view("atomic"),
    std::string_view("thread_local"),
    std::string_view("volatile"),
    // randomness
    std::string_view("rand"),
    std::string_view("srand"),
    std::string_view("random_device"),
    std::string_view("mt19937"),
    std::string_view("mt19937_64"),
    std::string_view("getrandom"),
    // the end of the program, and jumps past it
    std::string_view("setjmp"),
    std::string_view("longjmp"),
    std::string_view("quick_exit"),
    std::string_view("abort"),
    std::string_view("setlocale"),
    std::string_view("asm"),
};

bool is_pure_header(std::string_view header) {
  return header.starts_with("Eigen/") || header.starts_with("unsupported/Eigen/") ||
         std::find(pure_headers.begin(), pure_headers.end(), header) != pure_headers.end();
}

}  // namespace

std::vector<Module> parse_modules(std::string_view text) {
  std::vector<Module> modules;
  for (const std::string& line : split(text, '\n')) {
    const std::size_t colon = line.find(':');
    if (colon == std::string::npos) {
      modules.push_back({});
    } else {
      modules.push_back({line.substr(0, colon), split(line.substr(colon + 1), ',')});
    }
  }
  return modules;
}

const Module* module_of(const std::vector<Module>& modules, std::string_view path) {
  const Module* longest = nullptr;
  for (const Module& module : modules) {
    if (module.path.empty() || !is_inside(path, module.path)) continue;
    if (longest == nullptr || module.path.size() > longest->path.size()) longest = &module;
  }
  return longest;
}

Violations check_declarations(const std::vector<Module>& modules) {
  Violations violations;
  std::set<std::string> names;
  for (const Module& module : modules) {
    if (module.path.empty()) violations.emplace_back("A module has no path.");
    if (!names.insert(module.path).second) {
      violations.push_back(fmt::format("{} is declared twice.", module.path));
    }
    for (const std::string& dependency : module.depends) {
      if (module_named(modules, dependency) == nullptr) {
        violations.push_back(fmt::format("{} → {}, which is no module.", module.path, dependency));
      } else {
        check_direction(module, dependency, violations);
      }
    }
  }
  std::set<std::string> closed;
  for (const Module& module : modules) {
    std::vector<std::string> open;
    find_cycles(modules, module, open, closed, violations);
  }
  return violations;
}

Violations check_belonging(const std::vector<Module>& modules, const Source& source) {
  if (is_inside(source.path, "tests") || is_inside(source.path, "benchmarks")) return {};
  if (module_of(modules, source.path) != nullptr) return {};
  return {fmt::format("{} belongs to no module.", source.path)};
}

Violations check_includes(const std::vector<Module>& modules, const Source& source) {
  const Module* const own = module_of(modules, source.path);
  if (own == nullptr) return {};
  Violations violations;
  for (const Include& include : includes_of(source.text)) {
    if (!include.quoted) continue;
    const Module* const used = module_of(modules, include.target);
    if (used == nullptr) {
      violations.push_back(fmt::format("{}:{} includes \"{}\", which is in no module.", source.path,
                                       include.line, include.target));
      continue;
    }
    const bool declared =
        std::find(own->depends.begin(), own->depends.end(), used->path) != own->depends.end();
    if (used != own && !declared) {
      violations.push_back(fmt::format("{}:{} includes \"{}\", but {} does not declare {}.",
                                       source.path, include.line, include.target, own->path,
                                       used->path));
    }
  }
  return violations;
}

Violations check_declared_is_used(const std::vector<Module>& modules,
                                  const std::vector<Source>& sources) {
  std::set<std::string> used;  // "module → dependency"
  for (const Source& source : sources) {
    const Module* const own = module_of(modules, source.path);
    if (own == nullptr) continue;
    for (const Include& include : includes_of(source.text)) {
      const Module* const target = module_of(modules, include.target);
      if (target != nullptr) used.insert(own->path + " → " + target->path);
    }
  }
  Violations violations;
  for (const Module& module : modules) {
    for (const std::string& dependency : module.depends) {
      const std::string edge = module.path + " → " + dependency;
      if (!used.contains(edge)) violations.push_back(edge + " is declared and not used.");
    }
  }
  return violations;
}

Violations check_outside_libraries(const Source& source) {
  const std::string folder = top_folder(source.path);
  if (folder == "tests" || folder == "benchmarks") return {};
  Violations violations;
  for (const Include& include : includes_of(source.text)) {
    for (const Library& library : libraries()) {
      if (!include.target.starts_with(library.header)) continue;
      if (std::find(library.rooms.begin(), library.rooms.end(), folder) != library.rooms.end()) {
        continue;
      }
      // One of our own headers may happen to begin alike.
      if (include.quoted && include.target.find('/') != std::string::npos &&
          height_of(top_folder(include.target))) {
        continue;
      }
      violations.push_back(fmt::format("{}:{} includes <{}>, which does not belong in {}/.",
                                       source.path, include.line, include.target, folder));
    }
  }
  return violations;
}

Violations check_purity(const Source& source) {
  if (!is_inside(source.path, "core")) return {};
  Violations violations;
  for (const Include& include : includes_of(source.text)) {
    if (!include.quoted && !is_pure_header(include.target)) {
      violations.push_back(fmt::format("{}:{} includes <{}>, which is not on core's list.",
                                       source.path, include.line, include.target));
    }
  }
  for (const Token& token : tokens_of(source.text)) {
    if (std::find(impure_words.begin(), impure_words.end(), token.word) != impure_words.end()) {
      violations.push_back(
          fmt::format("{}:{} says \"{}\"; core is pure.", source.path, token.line, token.word));
    }
  }
  return violations;
}

Violations check_form(const Source& source) {
  Violations violations;
  const int lines = line_count(source.text);
  if (lines > most_lines) {
    violations.push_back(
        fmt::format("{} has {} lines; split it below {}.", source.path, lines, most_lines));
  }
  if (is_header(source.path) && code_of(source.text).find("#pragma once") == std::string::npos) {
    violations.push_back(fmt::format("{} has no #pragma once.", source.path));
  }
  static const std::set<std::string> vague{"util", "utils", "common", "misc", "helpers", "shared"};
  for (const std::string& part : split(source.path, '/')) {
    const std::string stem = part.substr(0, part.find('.'));
    if (vague.contains(stem)) {
      violations.push_back(fmt::format("{}: \"{}\" names nothing.", source.path, stem));
    }
  }
  return violations;
}

}  // namespace batten::architecture

// The rules held against the tree as it stands, one test for each so that a failure names its rule.
#include "tests/architecture/rules.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

namespace batten::architecture {
namespace {

namespace fs = std::filesystem;

std::string read(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  EXPECT_TRUE(file) << path;
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

bool is_source(const fs::path& path) {
  const std::array<std::string_view, 6> endings{".cpp", ".hpp", ".h", ".cc", ".c", ".ipp"};
  return std::find(endings.begin(), endings.end(), path.extension().string()) != endings.end();
}

// Folders that hold no source of ours: builds, and what begins with a dot.
bool is_left_out(const fs::path& folder) {
  const std::string name = folder.filename().string();
  return name.starts_with('.') || name == "build" || name == "node_modules";
}

const std::vector<Source>& sources() {
  static const std::vector<Source> all = [] {
    const fs::path root = BATTEN_SOURCE_DIR;
    std::vector<Source> found;
    for (auto entry = fs::recursive_directory_iterator(root);
         entry != fs::recursive_directory_iterator(); ++entry) {
      if (entry->is_directory() && is_left_out(entry->path())) entry.disable_recursion_pending();
      if (!entry->is_regular_file() || !is_source(entry->path())) continue;
      found.push_back(
          {entry->path().lexically_relative(root).generic_string(), read(entry->path())});
    }
    return found;
  }();
  return all;
}

const std::vector<Module>& modules() {
  static const std::vector<Module> all =
      parse_modules(read(fs::path(BATTEN_BINARY_DIR) / "modules.txt"));
  return all;
}

void expect_none(const Violations& violations) {
  for (const std::string& violation : violations) ADD_FAILURE() << violation;
}

// Guards the others: an empty list would pass every rule.
TEST(Tree, IsFound) {
  EXPECT_GT(sources().size(), 30U);
  EXPECT_GT(modules().size(), 3U);
  for (const char* path : {"core/outcome", "core/quantities", "core/keyboard"}) {
    EXPECT_TRUE(std::any_of(modules().begin(), modules().end(), [&](const Module& module) {
      return module.path == path;
    })) << path;
  }
}

TEST(Tree, DeclaresModulesThatPointDown) { expect_none(check_declarations(modules())); }

TEST(Tree, HasEverySourceInAModule) {
  for (const Source& source : sources()) expect_none(check_belonging(modules(), source));
}

TEST(Tree, IncludesOnlyWhatIsDeclared) {
  for (const Source& source : sources()) expect_none(check_includes(modules(), source));
}

TEST(Tree, DeclaresOnlyWhatIsIncluded) {
  expect_none(check_declared_is_used(modules(), sources()));
}

TEST(Tree, KeepsOutsideLibrariesInTheirRooms) {
  for (const Source& source : sources()) expect_none(check_outside_libraries(source));
}

TEST(Tree, KeepsCorePure) {
  for (const Source& source : sources()) expect_none(check_purity(source));
}

TEST(Tree, KeepsFilesShortAndWellFormed) {
  for (const Source& source : sources()) expect_none(check_form(source));
}

}  // namespace
}  // namespace batten::architecture

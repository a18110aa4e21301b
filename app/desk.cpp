#include "app/desk.hpp"

#include "records/identity.hpp"
#include "reports/failure.hpp"

#include <chrono>
#include <cstdlib>
#include <new>
#include <system_error>
#include <utility>

namespace batten {

Problem explain(const std::exception& failure) {
  if (const auto* store = dynamic_cast<const StoreFailure*>(&failure)) return store->problem();
  if (const auto* report = dynamic_cast<const ReportFailure*>(&failure)) return report->problem();
  if (dynamic_cast<const std::bad_alloc*>(&failure) != nullptr)
    return {"There is not enough memory for this.", "Everything entered before is kept.",
            "Close other programs and try again."};
  if (dynamic_cast<const std::filesystem::filesystem_error*>(&failure) != nullptr)
    return {std::string("A file or folder could not be used: ") + failure.what() + ".",
            "Everything entered before is kept.", "Check the path, the permissions and the disk."};
  return {std::string("Something unforeseen went wrong: ") + failure.what() + ".",
          "Everything entered before is kept.", "Try again; if it happens again, report it."};
}

Result<std::filesystem::path> usual_store_path() {
  const auto variable = [](const char* name) -> std::string {
    const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): read before any thread
    return value == nullptr ? "" : value;
  };
  std::filesystem::path folder = variable("XDG_DATA_HOME");
  // The specification: a relative path is to be ignored.
  if (folder.empty() || folder.is_relative()) {
    const std::string home = variable("HOME");
    if (home.empty())
      return problem("No home folder is set, so there is no usual place for the store.",
                     "Name a file with --store.");
    folder = std::filesystem::path(home) / ".local" / "share";
  }
  return folder / "batten" / "journal.store";
}

Result<Desk> open_desk(const std::filesystem::path& file, std::string who) {
  return guarded([&]() -> Result<Desk> {
    if (file.has_parent_path()) std::filesystem::create_directories(file.parent_path());
    const auto now = [] {
      return std::chrono::duration_cast<std::chrono::milliseconds>(
                 std::chrono::system_clock::now().time_since_epoch())
          .count();
    };
    return Desk{Store::open(file), std::move(who), now, make_uuid};
  });
}

}  // namespace batten

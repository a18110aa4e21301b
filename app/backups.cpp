#include "app/backups.hpp"

#include "app/line_job.hpp"
#include "app/shop_settings.hpp"

#include <algorithm>
#include <chrono>
#include <functional>
#include <system_error>

namespace batten {

namespace fs = std::filesystem;

namespace {

constexpr std::int64_t day_ms = 86'400'000;

fs::path usual_folder(const fs::path& store) {
  return (store.has_parent_path() ? store.parent_path() : fs::path(".")) / "backups";
}

struct Wanted {
  std::optional<fs::path> folder;
  BackupKeep keep;
};

Wanted wanted_of(Desk& desk) {
  const auto shop = desk.store.shop();
  Wanted wanted{usual_folder(desk.store.file()), {}};
  if (const auto set = shop.find("backup-folder"); set != shop.end()) {
    wanted.folder.reset();
    if (set->second != "none") wanted.folder = set->second;
  }
  if (const auto set = shop.find("backup-keep"); set != shop.end())
    if (auto keep = parse_backup_keep(set->second)) wanted.keep = *keep;
  return wanted;
}

bool is_due(Desk& desk, const fs::path& folder) {
  const auto files = list_backups(folder, desk.store.file());
  if (files.empty()) return !desk.store.pianos().empty();
  const std::int64_t age = desk.now_ms() - files.front().made_ms;
  // One from the future would stop them all until then.
  return age >= day_ms || age < -day_ms;
}

}  // namespace

Result<Backups> backups(Desk& desk) {
  return guarded([&]() -> Result<Backups> {
    const Wanted wanted = wanted_of(desk);
    const fs::path folder = wanted.folder.value_or(usual_folder(desk.store.file()));
    return Backups{wanted.folder, list_backups(folder, desk.store.file())};
  });
}

Result<BackupFile> make_backup_now(Desk& desk) {
  return guarded([&]() -> Result<BackupFile> {
    const Wanted wanted = wanted_of(desk);
    return make_backup(desk.store, wanted.folder.value_or(usual_folder(desk.store.file())),
                       desk.now_ms(), wanted.keep);
  });
}

Result<std::optional<BackupFile>> make_backup_if_due(Desk& desk) {
  return guarded([&]() -> Result<std::optional<BackupFile>> {
    const Wanted wanted = wanted_of(desk);
    if (!wanted.folder || !is_due(desk, *wanted.folder)) return std::nullopt;
    try {
      return make_backup(desk.store, *wanted.folder, desk.now_ms(), wanted.keep,
                         std::chrono::milliseconds(0));
    } catch (const StoreFailure& failure) {
      if (failure.kind() == FailureKind::busy) return std::nullopt;
      throw;
    }
  });
}

namespace {

// Where this store's backups may be: as its settings say, where it can be opened, and beside it.
std::vector<BackupFile> backups_of(const fs::path& store) {
  std::vector<BackupFile> all = list_backups(usual_folder(store), store);
  std::error_code none;
  if (!fs::exists(store, none)) return all;
  // A store that cannot be opened is no failure here – damaged, say: that is what backups are for.
  const auto chosen = guarded([&]() -> Result<std::optional<fs::path>> {
    OpenOptions only_there;
    only_there.create = false;
    Desk desk{Store::open(store, only_there), {}, [] { return std::int64_t{0}; }, {}};
    return wanted_of(desk).folder;
  });
  if (chosen && *chosen)
    for (const BackupFile& one : list_backups(**chosen, store)) all.push_back(one);
  std::ranges::stable_sort(all, std::greater(), &BackupFile::made_ms);
  return all;
}

}  // namespace

Result<Restored> restore_store(const fs::path& store, std::string_view wanted,
                               std::int64_t now_ms) {
  return guarded([&]() -> Result<Restored> {
    std::error_code none;
    fs::path file(wanted);
    if (!fs::is_regular_file(file, none)) {
      file.clear();
      for (const BackupFile& one : backups_of(store)) {
        const bool fits = one.file.filename() == fs::path(wanted) ||
                          (!wanted.empty() && print_timestamp(one.made_ms).starts_with(wanted));
        if (!fits) continue;
        file = one.file;
        break;
      }
      if (file.empty())
        return problem("There is no backup \"" + std::string(wanted) + "\".",
                       "See: batten backup list.", "The store is as it was.");
    }
    return restore_backup(store, file, now_ms);
  });
}

}  // namespace batten

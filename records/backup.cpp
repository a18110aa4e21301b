#include "records/backup.hpp"

#include "records/backup_names.hpp"
#include "records/durable_files.hpp"
#include "records/sqlite/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string>
#include <system_error>
#include <unistd.h>

namespace batten {

namespace fs = std::filesystem;

namespace {

// Days since 1970-01-01; the week that day is in, Monday first (1970-01-01 was a Thursday).
std::int64_t day_of(std::int64_t ms) {
  return std::chrono::floor<std::chrono::days>(std::chrono::milliseconds(ms)).count();
}
std::int64_t week_of(std::int64_t ms) { return (day_of(ms) + 3 + std::int64_t{7'000'000}) / 7; }
std::int64_t month_of(std::int64_t ms) {
  const std::chrono::year_month_day date(
      std::chrono::sys_days(std::chrono::days(static_cast<int>(day_of(ms)))));
  return static_cast<int>(date.year()) * std::int64_t{12} + static_cast<unsigned>(date.month());
}

void remove_quietly(const fs::path& file) {
  std::error_code ignored;
  for (const char* beside : {"", "-journal", "-wal", "-shm"})
    fs::remove(file.string() + beside, ignored);
}

// What was left by a program that was killed.
void clear_parts(const fs::path& folder, const std::string& prefix) {
  std::error_code ignored;
  std::vector<fs::path> parts;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, ignored)) {
    const std::string name = entry.path().filename().string();
    if (name.starts_with(prefix) && name.find(part_ending) != std::string::npos)
      parts.push_back(entry.path());
  }
  for (const fs::path& part : parts) fs::remove(part, ignored);
}

std::string checked(sqlite::Connection& connection) {
  const auto told = connection.lines("PRAGMA integrity_check");
  if (told != std::vector<std::string>{"ok"}) return told.empty() ? "no answer" : told.front();
  const auto broken = connection.lines("PRAGMA foreign_key_check");
  return broken.empty() ? "" : "a reference to nothing: " + broken.front();
}

}  // namespace

std::vector<BackupFile> backups_to_drop(std::span<const BackupFile> newest_first,
                                        const BackupKeep& keep) {
  constexpr std::size_t in_any_case = 3;
  std::set<std::int64_t> days, weeks, months;
  std::vector<BackupFile> drop;
  for (std::size_t i = 0; i < newest_first.size(); ++i) {
    const std::int64_t at = newest_first[i].made_ms;
    // Each span that has one counts, not each that has passed: after a long rest nothing goes.
    const auto first_of = [](std::set<std::int64_t>& spans, std::int64_t span, int most) {
      if (spans.contains(span) || static_cast<int>(spans.size()) >= most) return false;
      spans.insert(span);
      return true;
    };
    const bool day = first_of(days, day_of(at), keep.days);
    const bool week = first_of(weeks, week_of(at), keep.weeks);
    const bool month = first_of(months, month_of(at), keep.months);
    if (!day && !week && !month && i >= in_any_case) drop.push_back(newest_first[i]);
  }
  return drop;
}

std::vector<BackupFile> list_backups(const fs::path& folder, const fs::path& store) {
  const std::string prefix = backup_prefix(store);
  std::vector<BackupFile> all;
  std::error_code error;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
    const std::string name = entry.path().filename().string();
    if (!name.starts_with(prefix) || !name.ends_with(backup_ending) ||
        name.size() < prefix.size() + backup_ending.size())
      continue;
    const auto made = parse_backup_time(std::string_view(name).substr(
        prefix.size(), name.size() - prefix.size() - backup_ending.size()));
    std::error_code gone;
    const auto bytes = entry.file_size(gone);
    if (made && !gone) all.push_back({entry.path(), *made, bytes});
  }
  std::ranges::sort(all, std::greater(), [](const BackupFile& b) { return b.made_ms; });
  return all;
}

BackupFile make_backup(Store& store, const fs::path& folder, std::int64_t now_ms,
                       const BackupKeep& keep, std::chrono::milliseconds wait) {
  // Only the last part of the path: above it is the disk, which may not be there today.
  if (folder.has_parent_path() && !fs::is_directory(folder.parent_path()))
    throw StoreFailure(
        FailureKind::missing,
        {fmt::format("There is no folder {} to keep backups in.", folder.parent_path().string()),
         "The backups there are were kept.",
         "Put the disk in, or choose another: batten shop backup-folder."});
  fs::create_directory(folder);
  const FolderLock lock(folder, wait);
  if (!lock.is_mine())
    throw StoreFailure(FailureKind::busy, {"Another program is making a backup.",
                                           "Nothing was changed.", "Try again in a while."});
  const std::string prefix = backup_prefix(store.file());
  if (lock.is_certain()) clear_parts(folder, prefix);

  BackupFile made;
  made.made_ms = now_ms / 1000 * 1000;
  const auto name = [&] {
    return folder / (prefix + print_backup_time(made.made_ms) + std::string(backup_ending));
  };
  while (fs::exists(name())) made.made_ms += 1000;
  made.file = name();
  const fs::path part = fmt::format("{}{}{}", made.file.string(), part_ending, getpid());
  try {
    store.copy_to(part);
    // As it will be found: through a connection that knows nothing of how it came about.
    sqlite::Connection copy(part.string(), SQLITE_OPEN_READWRITE, "");
    if (const std::string broken = checked(copy); !broken.empty())
      throw StoreFailure(FailureKind::damaged,
                         {"The store is damaged, so no backup was made of it.",
                          "The backups there are were kept, and the store is as it was.",
                          "Restore the newest backup: batten backup list."},
                         broken);
  } catch (...) {
    remove_quietly(part);
    throw;
  }
  sync_to_disk(part);
  fs::rename(part, made.file);
  sync_to_disk(folder);
  made.bytes = fs::file_size(made.file);

  const std::vector<BackupFile> all = list_backups(folder, store.file());
  for (const BackupFile& old : backups_to_drop(all, keep)) {
    std::error_code ignored;  // one too many does no harm
    if (old.file != made.file) fs::remove(old.file, ignored);
  }
  return made;
}

}  // namespace batten

// Copies of a store, and a store from a copy. Plain files in a folder; sqlite.org/backup.html.
#pragma once

#include "records/store.hpp"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace batten {

struct BackupFile {
  std::filesystem::path file;
  std::int64_t made_ms = 0;  // Unix time, UTC; to a second, as its name says
  std::uintmax_t bytes = 0;
  bool operator==(const BackupFile&) const = default;
};

// The last of each of so many days, ISO weeks and months (UTC) that have one; besides, the last
// three whatever their day.
struct BackupKeep {
  int days = 7, weeks = 4, months = 12;
  bool operator==(const BackupKeep&) const = default;
};

// Which of them are not to be kept; `newest_first`.
std::vector<BackupFile> backups_to_drop(std::span<const BackupFile> newest_first,
                                        const BackupKeep& keep);

// Of this store on this machine, newest first; those of other stores in the same folder are left
// out. No such folder: none.
std::vector<BackupFile> list_backups(const std::filesystem::path& folder,
                                     const std::filesystem::path& store);

// Copies the store, as its last commit left it, to a file of its own in `folder`, made if only its
// last part is missing; others may go on writing. The file has its name once it is whole, sound
// (SQLite's integrity check) and on the disk; only then are those dropped that `keep` does not
// keep. A program that is killed meanwhile leaves a ".part", cleared away next time. Throws
// StoreFailure: missing (no folder above it), busy (another program is at it and does not end in
// `wait`), damaged (the store is: no backup is dropped), disk_full, read_only, io.
BackupFile make_backup(Store& store, const std::filesystem::path& folder, std::int64_t now_ms,
                       const BackupKeep& keep,
                       std::chrono::milliseconds wait = std::chrono::seconds(10));

struct Restored {
  std::optional<std::filesystem::path> kept;  // the store there was, under its new name
  int revoked = 0;                            // devices that had been revoked since the backup
};

// Puts a backup in the place of the store. The backup is copied and checked first; the store there
// was is copied to a neighbour "<store>.before-restore-<time>", a damaged one with its log as it
// lies; then one rename changes the old for the new, so that a kill or a power cut leaves the one
// or the other. Devices revoked in the store there was stay revoked. Throws StoreFailure: missing,
// not_a_store, newer_version, damaged (of the backup), busy (another program has the store open),
// read_only, disk_full, io. The store is then as it was.
Restored restore_backup(const std::filesystem::path& store, const std::filesystem::path& backup,
                        std::int64_t now_ms);

}  // namespace batten

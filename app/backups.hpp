// Copies of the store: when, where, how many; and going back to one.
#pragma once

#include "app/desk.hpp"
#include "records/backup.hpp"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct Backups {
  std::optional<std::filesystem::path> folder;  // nothing: none are made by themselves
  std::vector<BackupFile> files;                // newest first
};

// Where they are by the workshop's setting, else "backups" beside the store.
Result<Backups> backups(Desk& desk);

// Makes one now; in the usual folder too where none are made by themselves.
Result<BackupFile> make_backup_now(Desk& desk);

// Makes one where the newest is a day old, or its time lies ahead of the clock, or there is none
// and the store holds a piano. Nothing: not due, another program is at it, or none are wanted.
Result<std::optional<BackupFile>> make_backup_if_due(Desk& desk);

// `wanted` is a backup's path, its file name, or the beginning of its time as the list shows it
// ("2026-11-25"): the newest that fits. The store must not be open. Error: none fits, or as
// restore_backup.
Result<Restored> restore_store(const std::filesystem::path& store, std::string_view wanted,
                               std::int64_t now_ms);

}  // namespace batten

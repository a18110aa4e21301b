// A store from a backup.
#include "records/backup.hpp"
#include "records/backup_names.hpp"
#include "records/durable_files.hpp"
#include "records/entry_rows.hpp"
#include "records/migrations.hpp"
#include "records/opening.hpp"
#include "records/sqlite/errors.hpp"

#include <fmt/format.h>

#include <string>
#include <system_error>
#include <utility>
#include <vector>

namespace batten {

namespace fs = std::filesystem;
using sqlite::Connection;
using sqlite::Statement;

namespace {

constexpr const char* as_it_was = "The store is as it was.";
using Revoked = std::vector<std::pair<Uuid, std::int64_t>>;

// A name in a URI (RFC 3986): all but letters, digits and a few signs by their number.
std::string uri_of(const fs::path& file) {
  std::string uri = "file:";
  for (const char c : fs::absolute(file).string()) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '/' || c == '.' || c == '-' || c == '_';
    uri += plain ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
  }
  return uri;
}

bool has_bytes(const fs::path& file) {
  std::error_code error;
  const auto size = fs::file_size(file, error);
  return !error && size > 0;
}

[[noreturn]] void refuse(FailureKind kind, const fs::path& backup, const std::string& what,
                         const char* todo, std::string detail = {}) {
  throw StoreFailure(kind,
                     {fmt::format("The backup {} {}.", backup.string(), what), as_it_was, todo},
                     std::move(detail));
}

// Sound, ours, and not of a later version.
void check_backup(Connection& connection, const fs::path& backup) {
  constexpr const char* another = "Choose another backup: batten backup list.";
  try {
    if (connection.number("PRAGMA application_id") != store_application_id)
      refuse(FailureKind::not_a_store, backup, "is no store of Batten", another);
    if (version_of(connection) > all_migrations().back().version)
      refuse(FailureKind::newer_version, backup, "was made by a later version of Batten",
             "Update Batten on this device.");
    const auto told = connection.lines("PRAGMA integrity_check");
    if (told != std::vector<std::string>{"ok"} ||
        !connection.lines("PRAGMA foreign_key_check").empty())
      refuse(FailureKind::damaged, backup, "is damaged", another, told.empty() ? "" : told.front());
  } catch (const StoreFailure& failure) {
    if (failure.problem().kept == as_it_was) throw;
    refuse(failure.kind(), backup, "cannot be read", another, failure.detail());
  }
}

// Whole and on the disk, beside the store.
void prepare(const fs::path& backup, const fs::path& target) {
  std::error_code error;
  if (!fs::is_regular_file(backup, error))
    throw StoreFailure(FailureKind::missing, {fmt::format("There is no file {}.", backup.string()),
                                              as_it_was, "See: batten backup list."});
  // One that lies at rest is read without a trace beside it, also from a medium that cannot be
  // written; with a log beside it, SQLite must read that too.
  const bool at_rest =
      !has_bytes(backup.string() + "-wal") && !has_bytes(backup.string() + "-journal");
  Connection source(uri_of(backup) + (at_rest ? "?immutable=1" : ""),
                    (at_rest ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE) | SQLITE_OPEN_URI, "");
  check_backup(source, backup);
  Connection copy(target.string(), SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, "");
  copy.run("PRAGMA synchronous = FULL");
  source.copy_into(copy);
  copy.lines("PRAGMA journal_mode = DELETE");
}

bool has_devices(Connection& connection) {
  return connection.number(
             "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = 'device'") == 1;
}

Revoked revoked_in(Connection& connection) {
  Revoked all;
  if (!has_devices(connection)) return all;
  Statement rows =
      connection.prepare("SELECT id, revoked_ms FROM device WHERE revoked_ms IS NOT NULL");
  while (rows.step()) all.emplace_back(read_uuid(rows, 0), rows.integer(1));
  return all;
}

int revoke(const fs::path& store, const Revoked& revoked) {
  if (revoked.empty()) return 0;
  Connection connection(store.string(), SQLITE_OPEN_READWRITE, "");
  connection.run("PRAGMA synchronous = FULL");
  int count = 0;
  if (!has_devices(connection)) return 0;
  for (const auto& [id, at] : revoked) {
    connection.run("UPDATE device SET revoked_ms = ? WHERE id = ? AND revoked_ms IS NULL", at,
                   value_of(id));
    count += connection.changes();
  }
  return count;
}

fs::path free_name(const fs::path& store, std::int64_t now_ms) {
  const std::string first = store.string() + ".before-restore-" + print_backup_time(now_ms);
  std::string name = first;
  for (int n = 2; fs::exists(name); ++n) name = fmt::format("{}.{}", first, n);
  return name;
}

// Nobody else has it open, and it is one file without a log; so until the connection is closed.
// Leaving the write-ahead log needs the file for oneself (sqlite.org/wal.html), and a lock once
// taken in this mode is kept (sqlite.org/pragma.html#pragma_locking_mode).
void take_for_oneself(Connection& connection) {
  connection.set_busy_timeout(std::chrono::milliseconds(2000));
  try {
    if (connection.lines("PRAGMA journal_mode = DELETE") != std::vector<std::string>{"delete"})
      sqlite::fail(FailureKind::busy, "the log stays");
    connection.run("PRAGMA locking_mode = EXCLUSIVE");
    connection.run("BEGIN EXCLUSIVE");
    connection.run("COMMIT");
    if (connection.lines("PRAGMA journal_mode") != std::vector<std::string>{"delete"})
      sqlite::fail(FailureKind::busy, "another program opened it meanwhile");
  } catch (const StoreFailure& failure) {
    if (failure.kind() != FailureKind::busy) throw;
    throw StoreFailure(FailureKind::busy,
                       {"Another program has the store open.", as_it_was,
                        "End it (batten serve, say) and restore again."},
                       failure.detail());
  }
}

}  // namespace

Restored restore_backup(const fs::path& where, const fs::path& backup, std::int64_t now_ms) {
  // Behind a link: a rename would replace the link, and SQLite's log lies beside the file itself.
  const fs::path store = fs::is_symlink(where) ? fs::weakly_canonical(where) : where;
  const fs::path folder = store.has_parent_path() ? store.parent_path() : fs::path(".");
  fs::create_directories(folder);
  const FolderLock lock(folder, std::chrono::seconds(10));
  if (!lock.is_mine())
    throw StoreFailure(FailureKind::busy, {"Another program is at work in the store's folder.",
                                           as_it_was, "Try again in a while."});
  const fs::path fresh = store.string() + ".restoring";
  const auto clear = [](const fs::path& file) {
    std::error_code ignored;
    for (const char* beside : {"", "-journal", "-wal", "-shm"})
      fs::remove(file.string() + beside, ignored);
  };
  clear(fresh);  // of an earlier attempt that was killed
  Restored restored;
  const auto change = [&] {
    sync_to_disk(fresh);
    sync_to_disk(folder);
    fs::rename(fresh, store);
    sync_to_disk(folder);
  };
  try {
    prepare(backup, fresh);
    if (!has_bytes(store) && !has_bytes(store.string() + "-wal") &&
        !has_bytes(store.string() + "-journal")) {
      change();
      return restored;
    }
    const fs::path kept = free_name(store, now_ms);
    try {
      // SQLite throws the log of an empty file away.
      if (!has_bytes(store)) sqlite::fail(FailureKind::damaged, "empty, with a log beside it");
      Connection there(store.string(), SQLITE_OPEN_READWRITE, "");
      // A log that cannot be read is to stay as well.
      there.configure(SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true);
      take_for_oneself(there);
      {
        Connection copy(kept.string(), SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, "");
        copy.run("PRAGMA synchronous = FULL");
        there.copy_into(copy);
      }
      sync_to_disk(kept);
      restored.revoked = revoke(fresh, revoked_in(there));
      restored.kept = kept;
      change();
      return restored;
    } catch (const StoreFailure& failure) {
      const bool broken =
          failure.kind() == FailureKind::damaged || failure.kind() == FailureKind::not_a_store;
      if (!broken) {
        if (!restored.kept) clear(kept);
        throw;
      }
      clear(kept);
    }
    // It cannot be read: kept as it lies, log and all.
    for (const char* beside : {"", "-wal", "-journal"})
      if (has_bytes(store.string() + beside))
        copy_durably(store.string() + beside, kept.string() + beside);
    sync_to_disk(folder);
    restored.kept = kept;
    // A log must not be taken for the new store's.
    for (const char* beside : {"-wal", "-journal", "-shm"}) fs::remove(store.string() + beside);
    change();
    return restored;
  } catch (...) {
    clear(fresh);
    throw;
  }
}

}  // namespace batten

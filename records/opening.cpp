#include "records/opening.hpp"

#include "records/sqlite/errors.hpp"

#include <fmt/format.h>

#include <array>
#include <chrono>
#include <cstring>
#include <string_view>
#include <system_error>
#include <thread>
#include <unistd.h>

namespace batten {
namespace {

namespace fs = std::filesystem;

std::uint32_t big_endian(std::span<const std::uint8_t> bytes) {
  std::uint32_t value = 0;
  for (const std::uint8_t byte : bytes.first(4)) value = value << 8U | byte;
  return value;
}

// No journal and no log beside it: nothing is half written, nobody is writing.
bool is_at_rest(const fs::path& file, const std::string& vfs) {
  return !sqlite::has_content(file.string() + "-journal", vfs) &&
         !sqlite::has_content(file.string() + "-wal", vfs);
}

// The first 100 bytes, as sqlite.org/fileformat2.html section 1.3 lays them out. Read before SQLite
// does, because SQLite opens a log beside any file it takes for its own. Only of a file at rest:
// one with a journal or a log beside it may be half written, and SQLite must mend it first.
void check_header(sqlite::Connection& connection, int newest) {
  std::array<std::uint8_t, 100> header{};
  const std::size_t count = connection.peek(header);
  if (count == 0) return;  // new
  constexpr std::string_view magic{"SQLite format 3\0", 16};
  if (count < header.size() || std::memcmp(header.data(), magic.data(), magic.size()) != 0) {
    sqlite::fail(FailureKind::not_a_store, "no SQLite header");
  }
  const auto at = [&](std::size_t offset) {
    return big_endian(std::span<const std::uint8_t>(header).subspan(offset, 4));
  };
  // Another program's database, or one that is still empty.
  const std::uint32_t application = at(68);
  if (application != static_cast<std::uint32_t>(store_application_id) && application != 0) {
    sqlite::fail(FailureKind::not_a_store, fmt::format("application id {:#x}", application));
  }
  const bool versions_known =
      header[18] >= 1 && header[18] <= 2 && header[19] >= 1 && header[19] <= 2;
  const bool fractions_right = header[21] == 64 && header[22] == 32 && header[23] == 32;
  if (!versions_known || !fractions_right || at(44) > 4 || at(56) > 3) {
    sqlite::fail(FailureKind::damaged, "impossible header");
  }
  // SQLite writes whole pages, and would take a missing end for zeros. A page size of 1 means
  // 65536.
  const std::int64_t page = header[16] * 256 + header[17];
  if (page > 1 && connection.file_size() % page != 0) {
    sqlite::fail(FailureKind::damaged, "the last page is cut short");
  }
  if (at(60) > static_cast<std::uint32_t>(newest)) {
    sqlite::fail(FailureKind::newer_version, fmt::format("version {}", at(60)));
  }
}

// What the file says of itself with the log taken into account, which the header alone may not.
void check_claims(sqlite::Connection& connection, int newest) {
  // One view of the file: another program may be making the store at this moment.
  connection.run("BEGIN");
  const std::int64_t application = connection.number("PRAGMA application_id");
  const int version = version_of(connection);
  const std::int64_t things = connection.number("SELECT count(*) FROM sqlite_schema");
  connection.run("COMMIT");
  if (application != store_application_id) {
    const bool empty = application == 0 && version == 0 && things == 0;
    if (!empty)
      sqlite::fail(FailureKind::not_a_store, fmt::format("application id {:#x}", application));
    return;
  }
  if (version > newest)
    sqlite::fail(FailureKind::newer_version, fmt::format("version {}", version));
  if (version < 1) sqlite::fail(FailureKind::damaged, fmt::format("version {}", version));
}

void use_write_ahead_log(sqlite::Connection& connection, std::chrono::milliseconds wait) {
  // Where several programs make the same store at once SQLite answers busy here without waiting,
  // because each reads the file while it asks to write it.
  constexpr std::chrono::milliseconds pause{5};
  const auto end = std::chrono::steady_clock::now() + wait;
  for (;;) {
    try {
      sqlite::Statement statement = connection.prepare("PRAGMA journal_mode = WAL");
      if (statement.step() && statement.text(0) == "wal") return;
      sqlite::fail(FailureKind::io, "the folder does not allow a write-ahead log");
    } catch (const StoreFailure& failure) {
      if (failure.kind() != FailureKind::busy || std::chrono::steady_clock::now() >= end) throw;
    }
    std::this_thread::sleep_for(pause);
  }
}

void set_guards(sqlite::Connection& connection, const OpenOptions& options) {
  connection.set_busy_timeout(options.busy_timeout);
  connection.configure(SQLITE_DBCONFIG_TRUSTED_SCHEMA, false);
  connection.configure(SQLITE_DBCONFIG_DEFENSIVE, true);
  // "x" is a name, never a text in disguise.
  connection.configure(SQLITE_DBCONFIG_DQS_DML, false);
  connection.configure(SQLITE_DBCONFIG_DQS_DDL, false);
  connection.run("PRAGMA cell_size_check = ON");
  // 16 MiB: the index of identities is hit at random, and a large import would else write its pages
  // to the log again and again.
  connection.run("PRAGMA cache_size = -16384");
  connection.run("PRAGMA foreign_keys = ON");
  // So that INSERT OR REPLACE runs the triggers that forbid removing.
  connection.run("PRAGMA recursive_triggers = ON");
  connection.run(options.synced ? "PRAGMA synchronous = FULL" : "PRAGMA synchronous = OFF");
  connection.number(fmt::format("PRAGMA wal_autocheckpoint = {}", options.checkpoint_pages));
}

// Failures that the path alone explains, with better words than SQLite's "unable to open".
void check_path(const fs::path& file, bool create) {
  std::error_code error;
  const fs::path folder = file.has_parent_path() ? file.parent_path() : fs::path(".");
  if (!fs::is_directory(folder, error)) {
    throw StoreFailure(FailureKind::missing,
                       {fmt::format("There is no folder {}.", folder.string()),
                        "Nothing was changed.", "Make the folder, or choose another place."});
  }
  const bool there = fs::exists(file, error);
  if (there && fs::is_directory(file, error)) {
    sqlite::fail(FailureKind::not_a_store, "a folder: " + file.string());
  }
  if (!there && !create) {
    throw StoreFailure(FailureKind::missing,
                       {fmt::format("There is no store at {}.", file.string()),
                        "Nothing was changed.", "Check the path."});
  }
  // The log lies beside the store, so the folder must be writable too.
  if (access(folder.c_str(), W_OK) != 0 || (there && access(file.c_str(), R_OK | W_OK) != 0)) {
    throw StoreFailure(
        FailureKind::read_only,
        {fmt::format("The store {}, or the folder it is in, may not be written.", file.string()),
         "Nothing was changed.",
         "Change the permissions, or choose a store in a folder of your own."});
  }
}

}  // namespace

sqlite::Connection open_store(const fs::path& file, const OpenOptions& options,
                              std::span<const Migration> steps) {
  if (options.vfs.empty()) check_path(file, options.create);
  const int newest = steps.back().version;
  const int flags = SQLITE_OPEN_READWRITE | (options.create ? SQLITE_OPEN_CREATE : 0);
  sqlite::Connection connection(file.string(), flags, options.vfs);
  if (connection.is_read_only()) sqlite::fail(FailureKind::read_only, "opened for reading only");
  if (is_at_rest(file, options.vfs)) {
    try {
      check_header(connection, newest);
    } catch (const StoreFailure&) {
      // Unless another program began to write meanwhile, and this read a half-written page.
      if (is_at_rest(file, options.vfs)) throw;
    }
  }
  set_guards(connection, options);
  // Until it is known to be ours, closing must not move a log left by a crash into the file.
  connection.configure(SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true);
  try {
    check_claims(connection, newest);
  } catch (const StoreFailure&) {
    // An empty log is one that this opening made: let closing take it away again.
    if (connection.log_is_empty()) connection.configure(SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false);
    throw;
  }
  connection.configure(SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false);
  use_write_ahead_log(connection, options.busy_timeout);
  migrate(connection, file, options.vfs, steps);
  return connection;
}

}  // namespace batten

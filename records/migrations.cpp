#include "records/migrations.hpp"

#include "records/opening.hpp"
#include "records/sqlite/errors.hpp"

#include <fmt/format.h>

#include <cassert>

namespace batten {
namespace {

std::string free_copy_name(const std::string& file, const std::string& vfs, int version) {
  const std::string first = fmt::format("{}.before-v{}", file, version);
  std::string name = first;
  for (int n = 2; sqlite::has_content(name, vfs); ++n) name = fmt::format("{}.{}", first, n);
  return name;
}

void keep_copy(const std::string& file, const std::string& vfs, int version) {
  // A connection of its own reads the last commit while the caller's holds the write lock, so the
  // copy is of exactly what the migration starts from.
  sqlite::Connection source(file, SQLITE_OPEN_READWRITE, vfs);
  sqlite::Connection copy(free_copy_name(file, vfs, version),
                          SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, vfs);
  copy.run("PRAGMA synchronous = FULL");
  source.copy_into(copy);
}

void run_step(sqlite::Connection& connection, const Migration& step) {
  connection.run_script(step.sql);
  if (!connection.in_transaction()) {
    sqlite::fail(FailureKind::migration_failed, step.name + " ended the transaction");
  }
}

void check_references(sqlite::Connection& connection) {
  // Answers in rows, not in errors.
  const std::vector<std::string> broken = connection.lines("PRAGMA foreign_key_check");
  if (broken.empty()) return;
  sqlite::fail(FailureKind::migration_failed, "a reference to nothing: " + broken.front());
}

// Off while tables are rebuilt; only outside a transaction can it be switched.
class ForeignKeysOff {
 public:
  explicit ForeignKeysOff(sqlite::Connection& connection) : connection_(connection) {
    connection_.run("PRAGMA foreign_keys = OFF");
  }
  ~ForeignKeysOff() {
    sqlite3_exec(connection_.handle(), "PRAGMA foreign_keys = ON", nullptr, nullptr, nullptr);
  }
  ForeignKeysOff(const ForeignKeysOff&) = delete;
  ForeignKeysOff& operator=(const ForeignKeysOff&) = delete;

 private:
  sqlite::Connection& connection_;
};

}  // namespace

int version_of(sqlite::Connection& connection) {
  return static_cast<int>(connection.number("PRAGMA user_version"));
}

void migrate(sqlite::Connection& connection, const std::filesystem::path& file,
             const std::string& vfs, std::span<const Migration> steps) {
  assert(!steps.empty());
  const int newest = steps.back().version;
  if (version_of(connection) == newest) return;

  const ForeignKeysOff foreign_keys_off(connection);
  sqlite::Transaction transaction(connection);
  // Again, now that nobody else can write: another program may have done it meanwhile.
  const int version = version_of(connection);
  if (version >= newest) return;
  if (version > 0) keep_copy(file.string(), vfs, newest);
  try {
    for (const Migration& step : steps) {
      if (step.version > version) run_step(connection, step);
    }
    check_references(connection);
  } catch (const StoreFailure& failure) {
    if (failure.kind() != FailureKind::refused) throw;
    sqlite::fail(FailureKind::migration_failed, failure.detail());
  }
  connection.run(fmt::format("PRAGMA application_id = {}", store_application_id));
  connection.run(fmt::format("PRAGMA user_version = {}", newest));
  transaction.commit();
}

}  // namespace batten

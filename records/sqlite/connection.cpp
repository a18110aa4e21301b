#include "records/sqlite/connection.hpp"

#include "records/sqlite/errors.hpp"

#include <algorithm>

namespace batten::sqlite {

bool has_content(const std::string& path, const std::string& vfs) {
  sqlite3_vfs* layer = sqlite3_vfs_find(vfs.empty() ? nullptr : vfs.c_str());
  if (layer == nullptr) fail(FailureKind::io, "no file layer " + vfs);
  // SQLite's Unix layer answers no for an empty file.
  int there = 0;
  check(nullptr, layer->xAccess(layer, path.c_str(), SQLITE_ACCESS_EXISTS, &there));
  return there != 0;
}

Connection::Connection(const std::string& path, int flags, const std::string& vfs) {
  sqlite3* handle = nullptr;
  const int code =
      sqlite3_open_v2(path.c_str(), &handle, flags, vfs.empty() ? nullptr : vfs.c_str());
  handle_.reset(handle);
  if (handle != nullptr) sqlite3_extended_result_codes(handle, 1);
  check(handle, code);
}

Statement Connection::prepare(std::string_view sql) { return {handle_.get(), sql}; }

void Connection::run(std::string_view sql) { prepare(sql).finish(); }

void Connection::run_script(const std::string& sql) {
  check(handle_.get(), sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr));
}

std::int64_t Connection::number(std::string_view sql) {
  Statement statement = prepare(sql);
  if (!statement.step()) fail(FailureKind::damaged, "no answer: " + std::string(sql));
  return statement.integer(0);
}

std::vector<std::string> Connection::lines(std::string_view sql) {
  std::vector<std::string> all;
  // Any type as text: the answers of the checks mix them.
  Statement statement = prepare(sql);
  while (statement.step()) all.push_back(statement.joined());
  return all;
}

void Connection::set_busy_timeout(std::chrono::milliseconds wait) {
  check(handle_.get(), sqlite3_busy_timeout(handle_.get(), static_cast<int>(wait.count())));
}

void Connection::configure(int option, bool on) {
  check(handle_.get(), sqlite3_db_config(handle_.get(), option, on ? 1 : 0, nullptr));
}

sqlite3_file* Connection::file(int which) {
  sqlite3_file* file = nullptr;
  check(handle_.get(),
        sqlite3_file_control(handle_.get(), "main", which, static_cast<void*>(&file)));
  return file != nullptr && file->pMethods != nullptr ? file : nullptr;
}

std::int64_t Connection::file_size() {
  sqlite3_file* main = file(SQLITE_FCNTL_FILE_POINTER);
  if (main == nullptr) fail(FailureKind::io, "the file is not open");
  sqlite3_int64 size = 0;
  check(nullptr, main->pMethods->xFileSize(main, &size));
  return size;
}

std::size_t Connection::peek(std::span<std::uint8_t> buffer) {
  const std::size_t count = std::min(buffer.size(), static_cast<std::size_t>(file_size()));
  if (count == 0) return 0;
  sqlite3_file* main = file(SQLITE_FCNTL_FILE_POINTER);
  check(nullptr, main->pMethods->xRead(main, buffer.data(), static_cast<int>(count), 0));
  return count;
}

bool Connection::log_is_empty() {
  sqlite3_file* log = file(SQLITE_FCNTL_JOURNAL_POINTER);
  if (log == nullptr) return true;
  sqlite3_int64 size = 0;
  check(nullptr, log->pMethods->xFileSize(log, &size));
  return size == 0;
}

void Connection::copy_into(Connection& destination) {
  sqlite3_backup* backup =
      sqlite3_backup_init(destination.handle_.get(), "main", handle_.get(), "main");
  if (backup == nullptr) {
    fail(destination.handle_.get(), sqlite3_extended_errcode(destination.handle_.get()));
  }
  const int code = sqlite3_backup_step(backup, -1);
  sqlite3_backup_finish(backup);
  if (code != SQLITE_DONE) fail(destination.handle_.get(), code);
}

ReadTransaction::ReadTransaction(Connection& connection) : connection_(connection) {
  if (connection_.in_transaction()) return;
  connection_.run("BEGIN");
  open_ = true;
}

ReadTransaction::~ReadTransaction() {
  if (open_ && connection_.in_transaction()) {
    sqlite3_exec(connection_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
  }
}

Transaction::Transaction(Connection& connection) : connection_(connection) {
  connection_.run("BEGIN IMMEDIATE");
}

Transaction::~Transaction() {
  // A failed write may have rolled back by itself already. If this fails too, closing rolls back.
  if (open_ && connection_.in_transaction()) {
    sqlite3_exec(connection_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
  }
}

void Transaction::commit() {
  connection_.run("COMMIT");
  open_ = false;
}

}  // namespace batten::sqlite

// A thin layer over sqlite3: connection, transaction. Everything the library reports as a failure
// becomes a StoreFailure of the right kind.
#pragma once

#include "records/failure.hpp"
#include "records/sqlite/statement.hpp"

#include <chrono>
#include <cstdint>
#include <memory>
#include <span>
#include <sqlite3.h>
#include <string>
#include <string_view>
#include <vector>

namespace batten::sqlite {

// Whether there is such a file with something in it, as the file layer sees it.
bool has_content(const std::string& path, const std::string& vfs);

class Connection {
 public:
  // `flags` as for sqlite3_open_v2; `vfs` empty for the system's file layer. Nothing is read or
  // written yet except that SQLITE_OPEN_CREATE makes an empty file.
  Connection(const std::string& path, int flags, const std::string& vfs);

  // Of exactly one statement; anything after it but blanks and comments is refused.
  Statement prepare(std::string_view sql);
  // One statement that answers with no rows worth reading.
  void run(std::string_view sql);
  template <class... Values>
  void run(std::string_view sql, const Values&... values) {
    Statement statement = prepare(sql);
    statement.bind_all(values...);
    statement.finish();
  }
  // Any number of statements; for migrations only.
  void run_script(const std::string& sql);

  // One whole number from a statement that answers with one row, such as "PRAGMA user_version".
  std::int64_t number(std::string_view sql);
  // All rows, columns joined by a blank; for the checks, whose answers are for people.
  std::vector<std::string> lines(std::string_view sql);

  // Rows changed by the last INSERT.
  int changes() const { return sqlite3_changes(handle_.get()); }
  bool in_transaction() const { return sqlite3_get_autocommit(handle_.get()) == 0; }
  bool is_read_only() const { return sqlite3_db_readonly(handle_.get(), "main") == 1; }
  void set_busy_timeout(std::chrono::milliseconds wait);
  // SQLITE_DBCONFIG_… switches.
  void configure(int option, bool on);

  // The first `buffer.size()` bytes of the file as they lie on the disk, read past the library's
  // own page handling: neither locks, nor makes companion files. The number of bytes there are.
  std::size_t peek(std::span<std::uint8_t> buffer);
  // Bytes in the file, read in the same way.
  std::int64_t file_size();

  // True if the write-ahead log holds nothing or there is none.
  bool log_is_empty();

  // Copies the whole store, as the last commit left it, into an empty or missing file, synced.
  void copy_into(Connection& destination);

  sqlite3* handle() const { return handle_.get(); }

 private:
  struct Close {
    void operator()(sqlite3* handle) const { sqlite3_close_v2(handle); }
  };
  // SQLITE_FCNTL_FILE_POINTER or …_JOURNAL_POINTER; null if there is none open.
  sqlite3_file* file(int which);

  std::unique_ptr<sqlite3, Close> handle_;
};

// One view of the file for several statements, whoever writes meanwhile. No-op inside another.
class ReadTransaction {
 public:
  explicit ReadTransaction(Connection& connection);
  ~ReadTransaction();
  ReadTransaction(const ReadTransaction&) = delete;
  ReadTransaction& operator=(const ReadTransaction&) = delete;

 private:
  Connection& connection_;
  bool open_ = false;
};

// Takes the write lock at once (BEGIN IMMEDIATE), so that a second writer waits at the start and
// never half way. Rolled back unless committed.
class Transaction {
 public:
  explicit Transaction(Connection& connection);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  // Durable when it returns. Throws, rolled back, if it could not be made so.
  void commit();

 private:
  Connection& connection_;
  bool open_ = true;
};

}  // namespace batten::sqlite

#include "records/sqlite/statement.hpp"

#include "records/sqlite/errors.hpp"

#include <cmath>
#include <string>

namespace batten::sqlite {
namespace {

// True if nothing but blanks and comments is left: the parser makes no statement of it.
bool is_empty_sql(sqlite3* connection, const char* rest, const char* end) {
  sqlite3_stmt* next = nullptr;
  const int code =
      sqlite3_prepare_v2(connection, rest, static_cast<int>(end - rest), &next, nullptr);
  const bool empty = code == SQLITE_OK && next == nullptr;
  sqlite3_finalize(next);
  return empty;
}

}  // namespace

Statement::Statement(sqlite3* connection, std::string_view sql) : connection_(connection) {
  sqlite3_stmt* handle = nullptr;
  const char* rest = nullptr;
  const int code =
      sqlite3_prepare_v2(connection, sql.data(), static_cast<int>(sql.size()), &handle, &rest);
  handle_.reset(handle);
  check(connection, code);
  if (handle == nullptr) fail(FailureKind::refused, "no statement: " + std::string(sql));
  if (!is_empty_sql(connection, rest, sql.data() + sql.size())) {
    fail(FailureKind::refused, "more than one statement: " + std::string(sql));
  }
}

void Statement::bind(int place, const Value& value) {
  sqlite3_stmt* handle = handle_.get();
  int code = SQLITE_OK;
  if (std::holds_alternative<std::nullptr_t>(value)) {
    code = sqlite3_bind_null(handle, place);
  } else if (const auto* integer = std::get_if<std::int64_t>(&value)) {
    code = sqlite3_bind_int64(handle, place, *integer);
  } else if (const auto* real = std::get_if<double>(&value)) {
    if (std::isnan(*real)) fail(FailureKind::refused, "not a number");
    code = sqlite3_bind_double(handle, place, *real);
  } else if (const auto* text = std::get_if<std::string_view>(&value)) {
    // A view of nothing has no address, and SQLite would keep NULL for it.
    const char* start = text->data() == nullptr ? "" : text->data();
    code = sqlite3_bind_text64(handle, place, start, text->size(), SQLITE_STATIC, SQLITE_UTF8);
  } else {
    const auto bytes = std::get<std::span<const std::uint8_t>>(value);
    code = sqlite3_bind_blob64(handle, place, bytes.data(), bytes.size(), SQLITE_STATIC);
  }
  check(connection_, code);
}

bool Statement::step() {
  const int code = sqlite3_step(handle_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  fail(connection_, code);
}

void Statement::finish() {
  while (step()) {
  }
  reset();
}

void Statement::reset() { sqlite3_reset(handle_.get()); }

bool Statement::is_null(int column) const {
  return sqlite3_column_type(handle_.get(), column) == SQLITE_NULL;
}

void Statement::expect(int column, int type) const {
  if (sqlite3_column_type(handle_.get(), column) != type) {
    fail(FailureKind::damaged, "column " + std::to_string(column) +
                                   " of another type: " + std::string(sqlite3_sql(handle_.get())));
  }
}

std::int64_t Statement::integer(int column) const {
  expect(column, SQLITE_INTEGER);
  return sqlite3_column_int64(handle_.get(), column);
}

double Statement::real(int column) const {
  expect(column, SQLITE_FLOAT);
  return sqlite3_column_double(handle_.get(), column);
}

std::string_view Statement::text(int column) const {
  expect(column, SQLITE_TEXT);
  const unsigned char* start = sqlite3_column_text(handle_.get(), column);
  const int size = sqlite3_column_bytes(handle_.get(), column);
  return {reinterpret_cast<const char*>(start), static_cast<std::size_t>(size)};
}

std::span<const std::uint8_t> Statement::bytes(int column) const {
  expect(column, SQLITE_BLOB);
  const void* start = sqlite3_column_blob(handle_.get(), column);
  const int size = sqlite3_column_bytes(handle_.get(), column);
  return {static_cast<const std::uint8_t*>(start), static_cast<std::size_t>(size)};
}

std::string Statement::joined() const {
  std::string line;
  for (int column = 0; column < sqlite3_column_count(handle_.get()); ++column) {
    if (column > 0) line += ' ';
    const unsigned char* text = sqlite3_column_text(handle_.get(), column);
    if (text != nullptr) line += reinterpret_cast<const char*>(text);
  }
  return line;
}

}  // namespace batten::sqlite

// A prepared statement: values in, rows out.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <sqlite3.h>
#include <string>
#include <string_view>
#include <variant>

namespace batten::sqlite {

// A value on its way in. Text and bytes are not copied: they must live until the statement has run.
using Value = std::variant<std::nullptr_t, std::int64_t, double, std::string_view,
                           std::span<const std::uint8_t>>;

class Statement {
 public:
  Statement(sqlite3* connection, std::string_view sql);

  // `place` from 1. A NaN is refused, because SQLite would keep it as NULL.
  void bind(int place, const Value& value);
  template <class... Values>
  void bind_all(const Values&... values) {
    int place = 0;
    (bind(++place, Value{values}), ...);
  }

  // To the next row; false after the last.
  bool step();
  // Runs to the end and makes ready for the next values.
  void finish();
  // Makes ready for the next values, whatever rows are left.
  void reset();

  // Of the row stepped to; `column` from 0. Text and bytes live until the next step or reset. A
  // value of another type than asked for throws StoreFailure, damaged.
  bool is_null(int column) const;
  std::int64_t integer(int column) const;
  double real(int column) const;
  std::string_view text(int column) const;
  std::span<const std::uint8_t> bytes(int column) const;
  // All columns as text, whatever their types, with a blank between; NULL as nothing.
  std::string joined() const;

 private:
  struct Finalize {
    void operator()(sqlite3_stmt* handle) const { sqlite3_finalize(handle); }
  };
  void expect(int column, int type) const;

  sqlite3* connection_;
  std::unique_ptr<sqlite3_stmt, Finalize> handle_;
};

}  // namespace batten::sqlite

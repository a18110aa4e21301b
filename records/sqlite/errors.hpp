// From sqlite3's result codes to failures a person can act on.
#pragma once

#include "records/failure.hpp"

#include <sqlite3.h>

namespace batten::sqlite {

// Of a result code, extended or not. SQLITE_OK has no kind.
FailureKind kind_of(int code);

// Throws the failure of the connection's last call, which returned `code`.
[[noreturn]] void fail(sqlite3* connection, int code);
[[noreturn]] void fail(FailureKind kind, const std::string& detail);

inline void check(sqlite3* connection, int code) {
  if (code != SQLITE_OK) fail(connection, code);
}

}  // namespace batten::sqlite

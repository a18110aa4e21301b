#include "records/sqlite/errors.hpp"

namespace batten::sqlite {
namespace {

Problem problem_of(FailureKind kind) {
  const std::string kept = "Everything entered before is still in the store.";
  switch (kind) {
    case FailureKind::missing:
      return {"There is no store in this place.", "", "Check the path."};
    case FailureKind::newer_version:
      return {"The store was written by a later version of Batten.", "Nothing was changed.",
              "Update Batten on this device."};
    case FailureKind::not_a_store:
      return {"The file is not a Batten store.", "Nothing was changed.", "Check the path."};
    case FailureKind::damaged:
      return {"The store file is damaged.", "Nothing was changed.",
              "Keep the file, and go back to a copy of it."};
    case FailureKind::disk_full:
      return {"The disk is full, so this was not written.", kept,
              "Make some room on the disk and enter it again."};
    case FailureKind::read_only:
      return {"The store, or the folder it is in, may not be written.", "Nothing was changed.",
              "Change the permissions, or choose a store in a folder of your own."};
    case FailureKind::busy:
      return {"Another program is writing to the store.", kept,
              "Close the other program, or wait a moment and try again."};
    case FailureKind::refused:
      return {"The store refused a change that would break its rules.", kept,
              "This is a mistake in Batten: please report it."};
    case FailureKind::migration_failed:
      return {"The store could not be brought to this version of Batten.",
              "The store is as it was.", "Go on with the version you had, and please report it."};
    case FailureKind::io:
      break;
  }
  return {"The disk reported an error while the store was read or written.", kept,
          "Check the disk and its cable, and copy the store to another one."};
}

}  // namespace

FailureKind kind_of(int code) {
  switch (code & 0xff) {
    case SQLITE_NOTADB:
      return FailureKind::not_a_store;
    case SQLITE_CORRUPT:
      return FailureKind::damaged;
    case SQLITE_FULL:
      return FailureKind::disk_full;
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return FailureKind::read_only;
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return FailureKind::busy;
    case SQLITE_CONSTRAINT:
    case SQLITE_ERROR:
    case SQLITE_MISUSE:
    case SQLITE_MISMATCH:
    case SQLITE_RANGE:
    case SQLITE_TOOBIG:
      return FailureKind::refused;
    default:
      return FailureKind::io;
  }
}

void fail(FailureKind kind, const std::string& detail) {
  throw StoreFailure(kind, problem_of(kind), detail);
}

void fail(sqlite3* connection, int code) {
  const std::string words =
      connection == nullptr ? sqlite3_errstr(code) : sqlite3_errmsg(connection);
  fail(kind_of(code), words + " (" + std::to_string(code) + ")");
}

}  // namespace batten::sqlite

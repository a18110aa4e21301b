// The steps that bring a store of any age to this version.
#pragma once

#include "records/sqlite/connection.hpp"

#include <filesystem>
#include <span>
#include <string>

namespace batten {

struct Migration {
  int version;  // 1, 2, 3, … without gaps: what the store is after it
  std::string name;
  std::string sql;  // records/migrations/NNNN_name.sql
};

// Of this version of the program, oldest first.
std::span<const Migration> all_migrations();

// The store's version: 0 for a new, empty file.
int version_of(sqlite::Connection& connection);

// Brings the store to the newest of `steps` in one transaction. Before that, a store that has
// content is copied to a neighbour named "<file>.before-v<newest>" (with ".2", ".3", … if taken; no
// copy is ever overwritten), opened through `vfs`. Throws StoreFailure, migration_failed, if a step
// fails or leaves a reference to nothing: the store is then as it was, and the copy stays.
// No-op when the store is at the newest already.
void migrate(sqlite::Connection& connection, const std::filesystem::path& file,
             const std::string& vfs, std::span<const Migration> steps);

}  // namespace batten

// From a path to a connection that may be worked with.
#pragma once

#include "records/migrations.hpp"
#include "records/open_options.hpp"
#include "records/sqlite/connection.hpp"

#include <cstdint>
#include <filesystem>
#include <span>

namespace batten {

// "Bttn" in ASCII, in the file's header (sqlite.org/fileformat2.html, offset 68).
inline constexpr std::int32_t store_application_id = 0x4274746e;

// Checks that the file is a store, of this version or an older one, before anything is written;
// then switches to the write-ahead log, migrates, and sets every guard. On failure the folder is as
// it was, except that a new store that could not be finished leaves an empty file, which is taken
// as new next time: removing it could take it from under another program that opened it meanwhile.
sqlite::Connection open_store(const std::filesystem::path& file, const OpenOptions& options,
                              std::span<const Migration> steps);

}  // namespace batten

// What backups are called. Internal to records.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace batten {

// "20261126T063000Z" (ISO 8601, basic form), to a second.
std::string print_backup_time(std::int64_t at_ms);
std::optional<std::int64_t> parse_backup_time(std::string_view text);

// "journal.store.3f9a2c1b.": the store's file name and eight hexadecimal digits of where it is, so
// that stores of two machines may share a folder and none drops the other's.
std::string backup_prefix(const std::filesystem::path& store);
inline constexpr std::string_view backup_ending = ".backup";
inline constexpr std::string_view part_ending = ".part";

}  // namespace batten

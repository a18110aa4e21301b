// Pianos, visits and entries to fill stores with.
#pragma once

#include "core/journal/entry.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace batten::samples {

// The same for the same numbers, different for others.
Uuid identity(std::uint32_t family, std::uint32_t number);

Piano piano(std::uint32_t number = 1);
Visit visit(std::uint32_t number = 1);
// A reading with every field filled, made from its number.
Entry reading(std::uint32_t number, const Visit& of);
// One of every kind, with and without a note, with texts and numbers at their limits.
std::vector<Entry> every_kind(const Visit& of);

// A new, empty folder, removed with all in it at the end.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

std::string bytes_of(const std::filesystem::path& file);
void write_bytes(const std::filesystem::path& file, const std::string& bytes);

}  // namespace batten::samples

// A disk in memory whose power can be cut: an SQLite file layer (sqlite.org/vfs.html) that keeps
// apart what programs see and what would survive.
//
// A write, a truncation, a new or removed name is lost or kept at random when the power goes, until
// it is synced: a file's content by syncing that file, a folder's names by the syncs with which
// SQLite's Unix layer syncs the folder (the first sync of a new journal or log, and a delete that
// asks for it). What is kept need not be what was written first, and a write may be torn between
// 512-byte sectors. Nothing here reads a clock; the same seed gives the same survivor. For one
// thread.
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <map>
#include <memory>
#include <random>
#include <sqlite3.h>
#include <string>
#include <vector>

namespace batten::tests {

class PowerCutDisk {
 public:
  static constexpr std::size_t sector = 512;
  static constexpr std::uint64_t never = std::numeric_limits<std::uint64_t>::max();

  enum class Overwrite {
    safe,    // bytes around a write are out of danger (SQLite's assumption on Unix)
    unsafe,  // SQLite pads its writes to whole sectors
  };

  // Registers itself with SQLite as vfs_name() until it is destroyed.
  explicit PowerCutDisk(Overwrite overwrite = Overwrite::safe);
  ~PowerCutDisk();
  PowerCutDisk(const PowerCutDisk&) = delete;
  PowerCutDisk& operator=(const PowerCutDisk&) = delete;

  const std::string& vfs_name() const { return name_; }
  // Writes, truncations, syncs, new and removed names so far.
  std::uint64_t operations() const { return operations_; }
  // The power goes during the operation of that number (from 1); it and all after it fail.
  void cut_at(std::uint64_t operation) { cut_at_ = operation; }
  bool is_off() const { return off_; }
  // Power back: what survived is all there is. Every connection must be closed.
  void restart(std::uint64_t seed);

  // Room for so many bytes in all files together; a write that needs more answers SQLITE_FULL.
  void limit_space(std::size_t bytes) { space_ = bytes; }
  std::size_t used_space() const;
  // As programs see it, by name.
  std::map<std::string, std::string> contents() const;
  void put(const std::string& name, const std::string& bytes);

 private:
  friend struct DiskCalls;

  struct Change {
    bool truncation = false;
    std::size_t offset = 0;  // of a write, or the new size
    std::string bytes;
  };
  struct Handle;
  // Shared memory of the write-ahead log: gone with the power.
  struct SharedMemory {
    std::vector<std::unique_ptr<std::vector<char>>> regions;
    std::map<const Handle*, unsigned> shared, exclusive;  // bits of the locks held
  };
  struct File {
    std::string now;
    std::string durable;
    std::vector<Change> unsynced;
    std::map<const Handle*, int> locks;
    SharedMemory shared_memory;
  };
  struct Handle {
    std::shared_ptr<File> file;
    int level = SQLITE_LOCK_NONE;
    bool syncs_folder = false;  // at its next sync
  };
  using Names = std::map<std::string, std::shared_ptr<File>>;

  // Counts an operation; false if the power is off before or goes now.
  bool operate();
  static void apply(std::string& image, const Change& change);
  static std::string survivor(const File& file, std::mt19937_64& chance);

  std::string name_;
  std::unique_ptr<sqlite3_vfs> vfs_;
  Overwrite overwrite_;
  Names now_, durable_;
  std::uint64_t operations_ = 0;
  std::uint64_t cut_at_ = never;
  std::size_t space_ = std::numeric_limits<std::size_t>::max();
  bool off_ = false;
};

}  // namespace batten::tests

// Files made certain to be on the disk. Internal to records.
#pragma once

#include <chrono>
#include <filesystem>

namespace batten {

// fsync(2) of a file or a folder. Throws std::filesystem::filesystem_error.
void sync_to_disk(const std::filesystem::path& file);

// Byte by byte, synced; the target must not be there. Throws std::filesystem::filesystem_error.
void copy_durably(const std::filesystem::path& from, const std::filesystem::path& to);

// One program at a time in a folder: flock(2) on it, given back at the end of the program at the
// latest.
class FolderLock {
 public:
  // Waits for another program; is_mine() is then false if it did not end. Where the file system
  // has no such locks it counts as mine, and is_certain() is false.
  FolderLock(const std::filesystem::path& folder, std::chrono::milliseconds wait);
  ~FolderLock();
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  bool is_mine() const { return mine_; }
  bool is_certain() const { return certain_; }

 private:
  int handle_ = -1;
  bool mine_ = false, certain_ = false;
};

}  // namespace batten

#include "records/durable_files.hpp"

#include <cerrno>
#include <fcntl.h>
#include <sys/file.h>
#include <system_error>
#include <thread>
#include <unistd.h>

namespace batten {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void fail(const char* what, const fs::path& file) {
  throw fs::filesystem_error(what, file, std::error_code(errno, std::generic_category()));
}

}  // namespace

void sync_to_disk(const fs::path& file) {
  const int handle = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
  if (handle < 0) fail("cannot be opened", file);
  const bool done = ::fsync(handle) == 0 || errno == EINVAL;  // EINVAL: nothing to sync there
  const int error = errno;
  ::close(handle);
  errno = error;
  if (!done) fail("cannot be brought to the disk", file);
}

void copy_durably(const fs::path& from, const fs::path& to) {
  fs::copy_file(from, to);
  sync_to_disk(to);
}

FolderLock::FolderLock(const fs::path& folder, std::chrono::milliseconds wait)
    : handle_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
  if (handle_ < 0) fail("cannot be opened", folder);
  const auto end = std::chrono::steady_clock::now() + wait;
  while (::flock(handle_, LOCK_EX | LOCK_NB) != 0) {
    if (errno != EWOULDBLOCK && errno != EINTR) {
      mine_ = true;  // no locks on this file system
      return;
    }
    if (std::chrono::steady_clock::now() >= end) return;
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  }
  mine_ = certain_ = true;
}

FolderLock::~FolderLock() { ::close(handle_); }

}  // namespace batten

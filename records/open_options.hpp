// How a store is opened.
#pragma once

#include <chrono>
#include <string>

namespace batten {

struct OpenOptions {
  // Make a new store where there is none. Its folder must exist.
  bool create = true;
  // How long to wait for another program that is writing.
  std::chrono::milliseconds busy_timeout{5000};

  // The rest is for tests.
  // File layer, by the name it is registered under with SQLite; empty: the system's.
  std::string vfs = {};
  // Off: nothing is forced to the disk, and a power cut loses acknowledged entries.
  bool synced = true;
  // Pages in the write-ahead log (4096 bytes each) from which they are moved to the main file.
  int checkpoint_pages = 1000;
};

}  // namespace batten

// Words in: the command line of `batten`.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace batten::cli {

// Exit codes, also in `batten --help`.
inline constexpr int done = 0;
inline constexpr int not_done = 1;  // it could not be done; the message says why and what was kept
inline constexpr int misused = 2;   // the words on the command line make no sense
inline constexpr int bad_rows = 3;  // a table has bad rows; nothing of it was kept

// What every command knows.
struct Common {
  std::string store;  // empty: the usual place
  std::string piano;  // empty: the one whose visit began last
  std::string who;
  bool json = false;
  bool inches = false;
};

// Runs one command and returns its exit code. Text goes to standard output, messages and prompts to
// standard error.
int run(int argc, char** argv);

}  // namespace batten::cli

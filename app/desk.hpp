// Where a user's request meets the store: the open store, the clock, who is working.
#pragma once

#include "core/outcome/outcome.hpp"
#include "records/store.hpp"

#include <cstdint>
#include <exception>
#include <filesystem>
#include <functional>
#include <string>

namespace batten {

struct Desk {
  Store store;
  std::string who;                       // written into every entry, may be empty
  std::function<std::int64_t()> now_ms;  // Unix time, milliseconds, UTC
  std::function<Uuid()> new_id;
};

// Opens the store at `file`, made with its folder if missing, with the system's clock and chance.
Result<Desk> open_desk(const std::filesystem::path& file, std::string who);

// $XDG_DATA_HOME/batten/journal.store, or ~/.local/share/batten/journal.store (XDG Base Directory
// Specification 0.8). Error: neither variable nor a home folder is set.
Result<std::filesystem::path> usual_store_path();

// What went wrong with the world, as a sentence for a person: the one place where exceptions end.
Problem explain(const std::exception& failure);

// Runs `work` and turns what it throws into a Problem.
template <class Work>
auto guarded(Work&& work) -> decltype(work()) {
  try {
    return work();
  } catch (const std::exception& failure) {
    return tl::unexpected(explain(failure));
  }
}

}  // namespace batten

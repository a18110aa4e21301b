// Opening the store and choosing the piano, for every command that needs them.
#pragma once

#include "app/pianos.hpp"
#include "cli/command_line.hpp"
#include "cli/terminal.hpp"

#include <filesystem>
#include <system_error>

namespace batten::cli {

inline int fail(const Common& common, const Problem& problem) {
  tell(problem, common.json);
  return not_done;
}

inline Result<std::filesystem::path> store_of(const Common& common) {
  if (common.store.empty()) return usual_store_path();
  return std::filesystem::path(common.store);
}

inline Result<Desk> desk_of(const Common& common) {
  auto file = store_of(common);
  if (!file) return tl::unexpected(file.error());
  return open_desk(*file, common.who);
}

// Opens the store and runs `work(desk)`.
template <class Work>
int with_desk(const Common& common, Work&& work) {
  auto desk = desk_of(common);
  if (!desk) return fail(common, desk.error());
  return work(*desk);
}

// Likewise with the piano meant.
template <class Work>
int with_piano(const Common& common, Work&& work) {
  // A mistyped name must not leave an empty store behind.
  if (auto file = store_of(common); file) {
    std::error_code ignored;
    if (std::filesystem::status(*file, ignored).type() == std::filesystem::file_type::not_found)
      return fail(common, {"There is no store at " + file->string() + ".",
                           {},
                           "Check --store, or begin with \"batten add\" or \"batten demo\"."});
  }
  return with_desk(common, [&](Desk& desk) {
    auto piano = choose_piano(desk, common.piano);
    if (!piano) return fail(common, piano.error());
    // Where several could be meant, say which is: a reading on the wrong piano is soon made.
    if (common.piano.empty() && !common.json)
      if (auto all = list_pianos(desk); all && all->size() > 1)
        say_aside("piano: " + piano->name + " (another: --piano NAME)");
    return work(desk, *piano);
  });
}

}  // namespace batten::cli

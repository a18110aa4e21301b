// What is thrown when the world under the store fails: the disk, the file, another program.
#pragma once

#include "core/outcome/outcome.hpp"

#include <stdexcept>
#include <string>
#include <utility>

namespace batten {

enum class FailureKind {
  missing,        // no store there, and none was to be made
  newer_version,  // written by a later version of the program
  not_a_store,    // another kind of file
  damaged,        // the file's structure is broken
  disk_full,
  read_only,         // the file or its folder may not be written
  busy,              // another program held the store longer than the wait
  refused,           // the store's own rules refused a change: a mistake in the program
  migration_failed,  // the store could not be brought to this version; it is as it was
  io,                // anything else the system reports
};

// Thrown by the store, caught once in app/. Nothing of the call that threw is kept unless its
// problem says so; entries acknowledged earlier are untouched.
class StoreFailure : public std::runtime_error {
 public:
  // `detail`: the store library's own words, for a log.
  StoreFailure(FailureKind kind, Problem problem, std::string detail = {})
      : std::runtime_error(problem.sentence()),
        kind_(kind),
        problem_(std::move(problem)),
        detail_(std::move(detail)) {}

  FailureKind kind() const { return kind_; }
  const Problem& problem() const { return problem_; }
  const std::string& detail() const { return detail_; }

 private:
  FailureKind kind_;
  Problem problem_;
  std::string detail_;
};

}  // namespace batten

// The world failed while a report was being written.
#pragma once

#include "core/outcome/outcome.hpp"

#include <stdexcept>
#include <utility>

namespace batten {

// Disk full, folder missing, no permission. Caught once in app/ and told to the user.
class ReportFailure : public std::runtime_error {
 public:
  explicit ReportFailure(Problem problem)
      : std::runtime_error(problem.sentence()), problem_(std::move(problem)) {}
  const Problem& problem() const { return problem_; }

 private:
  Problem problem_;
};

}  // namespace batten

// What a call that should fail, failed with.
#pragma once

#include "records/failure.hpp"

#include <optional>

namespace batten::tests {

// The failure the call throws, nothing if it throws none.
template <class Call>
std::optional<StoreFailure> failure_of(const Call& call) {
  try {
    call();
  } catch (const StoreFailure& failure) {
    return failure;
  }
  return std::nullopt;
}

template <class Call>
std::optional<FailureKind> kind_of_failure(const Call& call) {
  const auto failure = failure_of(call);
  if (!failure) return std::nullopt;
  return failure->kind();
}

}  // namespace batten::tests

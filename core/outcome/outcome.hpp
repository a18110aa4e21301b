// Expected failures as values: core/ throws nothing, so that it can run anywhere, a browser included.
#pragma once

#include <string>
#include <utility>

#include <tl/expected.hpp>

namespace batten {

// What a person is told when something could not be done. Three sentences, each may be empty but
// the first: what happened, what was kept, what to do now.
struct Problem {
  std::string happened;
  std::string kept;
  std::string todo;

  // One line: "happened Kept: kept To do: todo", empty parts left out.
  std::string sentence() const {
    std::string text = happened;
    if (!kept.empty()) text += " " + kept;
    if (!todo.empty()) text += " " + todo;
    return text;
  }
  bool operator==(const Problem&) const = default;
};

template <class T>
using Result = tl::expected<T, Problem>;

// `return problem("…");` from any function that returns a Result.
inline tl::unexpected<Problem> problem(std::string happened, std::string todo = {},
                                       std::string kept = {}) {
  return tl::unexpected<Problem>(
      Problem{std::move(happened), std::move(kept), std::move(todo)});
}

}  // namespace batten

// How values become JSON, everywhere alike. Internal to json and to what adds its own answers.
#pragma once

#include <nlohmann/json.hpp>

#include <cmath>
#include <string>

namespace batten {

using Json = nlohmann::ordered_json;

// JSON has no NaN: null.
inline Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

// Texts in a store are UTF-8; what a file name or a typed byte may hold besides is replaced, not
// refused. Two blanks an indent.
inline std::string dumped(const Json& j) {
  return j.dump(2, ' ', false, Json::error_handler_t::replace);
}

}  // namespace batten

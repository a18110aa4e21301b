// How values become JSON, everywhere alike. Internal to json and to what adds its own answers.
#pragma once

#include <nlohmann/json.hpp>

#include <cmath>
#include <string>

namespace batten {

using Json = nlohmann::ordered_json;

// JSON has no NaN: null.
inline Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

// To four decimals: a ten-thousandth of a millimetre, far below any gauge.
inline Json rounded(double value) {
  if (!std::isfinite(value)) return Json(nullptr);
  const double r = std::round(value * 1e4) / 1e4;
  return Json(r == 0 ? 0.0 : r);  // no minus before a zero
}

// Texts in a store are UTF-8; what a file name or a typed byte may hold besides is replaced, not
// refused. Two blanks an indent.
inline std::string dumped(const Json& j) {
  return j.dump(2, ' ', false, Json::error_handler_t::replace);
}
// Without blanks and line breaks.
inline std::string dumped_short(const Json& j) {
  return j.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace batten

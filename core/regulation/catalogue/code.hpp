// Codes as they are typed: how two spellings of one code are told to be the same.
#pragma once

#include <string_view>

namespace batten {

// Whether `typed` is `code` ("string-height") with letter case, and any run of blanks, '_' or '-'
// between words, forgiven; blanks around it too. `code` is lower case with single dashes.
constexpr bool is_code(std::string_view typed, std::string_view code) {
  constexpr auto is_gap = [](char c) { return c == ' ' || c == '\t' || c == '_' || c == '-'; };
  constexpr auto is_blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!typed.empty() && is_blank(typed.front())) typed.remove_prefix(1);
  while (!typed.empty() && is_blank(typed.back())) typed.remove_suffix(1);
  while (!typed.empty() && !code.empty()) {
    const char c = typed.front();
    if (is_gap(c)) {
      if (code.front() != '-') return false;
      while (!typed.empty() && is_gap(typed.front())) typed.remove_prefix(1);
    } else {
      const char lower = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
      if (lower != code.front()) return false;
      typed.remove_prefix(1);
    }
    code.remove_prefix(1);
  }
  return typed.empty() && code.empty();
}

}  // namespace batten

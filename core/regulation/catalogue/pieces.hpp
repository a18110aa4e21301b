// How the settings of this folder are taken apart.
#pragma once

#include <string_view>
#include <vector>

namespace batten {

inline std::string_view trim(std::string_view s) {
  const auto from = s.find_first_not_of(" \t");
  if (from == std::string_view::npos) return {};
  return s.substr(from, s.find_last_not_of(" \t") - from + 1);
}

// Pieces between `mark`s, blanks around them dropped; empty ones stay.
inline std::vector<std::string_view> split(std::string_view text, char mark) {
  std::vector<std::string_view> pieces;
  for (;;) {
    const auto at = text.find(mark);
    pieces.push_back(trim(text.substr(0, at)));
    if (at == std::string_view::npos) return pieces;
    text.remove_prefix(at + 1);
  }
}

}  // namespace batten

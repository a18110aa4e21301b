// Reading C++ source as text: enough to tell code from comments and literals, no more.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace batten::architecture {

// `text` with comments and the contents of string and character literals turned to blanks; the same
// length and lines. Raw strings and digit separators are understood.
std::string code_of(std::string_view text);

struct Include {
  std::string target;   // "core/keyboard/key.hpp" or "vector"
  bool quoted = false;  // "…" and not <…>
  int line = 0;         // from 1
};
std::vector<Include> includes_of(std::string_view text);

struct Token {
  std::string word;  // an identifier or keyword
  int line = 0;
};
// Every identifier and keyword of the code; include lines are left out.
std::vector<Token> tokens_of(std::string_view text);

int line_count(std::string_view text);

}  // namespace batten::architecture

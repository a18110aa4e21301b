#include "tests/architecture/source_text.hpp"

#include <algorithm>
#include <cctype>

namespace batten::architecture {
namespace {

bool is_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; }

// Where the literal or comment that starts at `begin` ends, or `begin` if none starts there.
std::size_t end_of_comment(std::string_view text, std::size_t begin) {
  const std::string_view rest = text.substr(begin);
  if (rest.starts_with("//")) return std::min(text.find('\n', begin), text.size());
  if (!rest.starts_with("/*")) return begin;
  const std::size_t close = text.find("*/", begin + 2);
  return close == std::string_view::npos ? text.size() : close + 2;
}

std::size_t end_of_raw_string(std::string_view text, std::size_t quote) {
  const std::size_t open = text.find('(', quote);
  if (open == std::string_view::npos) return text.size();
  const std::string close = ")" + std::string(text.substr(quote + 1, open - quote - 1)) + "\"";
  const std::size_t end = text.find(close, open);
  return end == std::string_view::npos ? text.size() : end + close.size();
}

std::size_t end_of_literal(std::string_view text, std::size_t begin) {
  const char quote = text[begin];
  if (quote != '"' && quote != '\'') return begin;
  const bool after_word = begin > 0 && is_word(text[begin - 1]);
  if (quote == '"' && after_word && text[begin - 1] == 'R') return end_of_raw_string(text, begin);
  // 1'000: a separator, not a literal.
  if (quote == '\'' && after_word &&
      std::isxdigit(static_cast<unsigned char>(text[begin - 1])) != 0) {
    return begin;
  }
  std::size_t end = begin + 1;
  while (end < text.size() && text[end] != quote && text[end] != '\n') {
    end += text[end] == '\\' ? 2U : 1U;
  }
  return std::min(end + 1, text.size());
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

// The line behind "#include", or nothing.
std::string_view behind_include(std::string_view line) {
  const auto skip_blanks = [&] {
    while (!line.empty() && (line.front() == ' ' || line.front() == '\t')) line.remove_prefix(1);
  };
  skip_blanks();
  if (!line.starts_with('#')) return {};
  line.remove_prefix(1);
  skip_blanks();
  constexpr std::string_view word = "include";
  if (!line.starts_with(word)) return {};
  line.remove_prefix(word.size());
  skip_blanks();
  return line;
}

}  // namespace

std::string code_of(std::string_view text) {
  std::string code(text);
  std::size_t at = 0;
  while (at < text.size()) {
    std::size_t end = end_of_comment(text, at);
    if (end == at) end = end_of_literal(text, at);
    if (end == at) {
      ++at;
      continue;
    }
    for (; at < end; ++at) {
      if (code[at] != '\n') code[at] = ' ';
    }
  }
  return code;
}

std::vector<Include> includes_of(std::string_view text) {
  std::vector<Include> includes;
  const std::string code = code_of(text);
  const std::vector<std::string_view> written = lines_of(text);
  const std::vector<std::string_view> coded = lines_of(code);
  for (std::size_t i = 0; i < coded.size(); ++i) {
    // The code tells whether the line counts; the written line still has the quoted name.
    const std::string_view blanked = coded[i];
    if (blanked.find('#') == std::string_view::npos) continue;
    const std::string_view target = behind_include(written[i]);
    if (target.empty() || (target.front() != '"' && target.front() != '<')) continue;
    const bool quoted = target.front() == '"';
    const std::size_t end = target.find(quoted ? '"' : '>', 1);
    if (end == std::string_view::npos) continue;
    includes.push_back({std::string(target.substr(1, end - 1)), quoted, static_cast<int>(i) + 1});
  }
  return includes;
}

std::vector<Token> tokens_of(std::string_view text) {
  std::vector<Token> tokens;
  const std::string code = code_of(text);
  int number = 0;
  for (std::string_view line : lines_of(code)) {
    ++number;
    const std::size_t hash = line.find_first_not_of(" \t");
    if (hash != std::string_view::npos && line[hash] == '#' &&
        line.find("include") != std::string_view::npos) {
      continue;
    }
    while (!line.empty()) {
      const auto* const begin = std::find_if(line.begin(), line.end(), is_word);
      const auto* const end = std::find_if_not(begin, line.end(), is_word);
      if (begin == end) break;
      if (std::isdigit(static_cast<unsigned char>(*begin)) == 0) {
        tokens.push_back({std::string(begin, end), number});
      }
      line.remove_prefix(static_cast<std::size_t>(end - line.begin()));
    }
  }
  return tokens;
}

int line_count(std::string_view text) { return static_cast<int>(lines_of(text).size()); }

}  // namespace batten::architecture

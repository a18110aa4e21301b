#include "core/language/language.hpp"

#include "core/language/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <span>
#include <utility>

namespace batten {

namespace {

using language::Row;

// By key, made once.
std::vector<Row> sorted(std::span<const Row> rows) {
  std::vector<Row> table(rows.begin(), rows.end());
  std::ranges::sort(table, {}, &Row::key);
  return table;
}

const std::vector<Row>& table_of(Language language) {
  static const std::vector<Row> english = sorted(language::english_rows());
  static const std::vector<Row> german = sorted(language::german_rows());
  return language == Language::german ? german : english;
}

const Row* find(Language language, std::string_view key) {
  const auto& table = table_of(language);
  const auto row = std::ranges::lower_bound(table, key, {}, &Row::key);
  return row != table.end() && row->key == key ? &*row : nullptr;
}

std::string filled(std::string_view text, std::initializer_list<Part> parts) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const std::size_t open = text.find('{');
    out += text.substr(0, open);
    if (open == std::string_view::npos) break;
    text.remove_prefix(open);
    const std::size_t close = text.find('}');
    const auto name = close == std::string_view::npos ? text : text.substr(1, close - 1);
    const auto* part = std::ranges::find(parts, name, &Part::name);
    if (close == std::string_view::npos || part == parts.end()) {
      out += text.front();
      text.remove_prefix(1);
    } else {
      out += part->value;
      text.remove_prefix(close + 1);
    }
  }
  return out;
}

}  // namespace

std::optional<Language> language_of(std::string_view code) {
  if (code == "en") return Language::english;
  if (code == "de") return Language::german;
  return std::nullopt;
}

std::string_view code_of(Language language) { return language == Language::german ? "de" : "en"; }

std::string say(Language language, std::string_view key, std::initializer_list<Part> parts) {
  const Row* row = find(language, key);
  assert(row != nullptr);
  return row != nullptr ? filled(row->text, parts) : std::string(key);
}

std::string say_count(Language language, std::string_view key, long count,
                      std::initializer_list<Part> parts) {
  const Row* row = find(language, std::string(key) + (count == 1 ? ".one" : ".other"));
  assert(row != nullptr);
  if (row == nullptr) return std::string(key);
  return filled(filled(row->text, {{"count", std::to_string(count)}}), parts);
}

bool has_words(Language language, std::string_view key) { return find(language, key) != nullptr; }

std::vector<std::string_view> word_keys(Language language) {
  std::vector<std::string_view> keys;
  for (const Row& row : table_of(language)) keys.push_back(row.key);
  return keys;
}

std::string name_of(Language language, Reading reading) {
  return say(language, "reading." + std::string(kind_of(reading).code));
}
std::string name_of(Language language, Adjuster adjuster) {
  return say(language, "adjuster." + std::string(kind_of(adjuster).code));
}
std::string name_of(Language language, PreparationItem item) {
  return say(language, "preparation." + std::string(kind_of(item).code));
}
std::string direction_of(Language language, Adjuster adjuster, double amount) {
  return say(language, "adjuster." + std::string(kind_of(adjuster).code) +
                           (amount < 0 ? ".negative" : ".positive"));
}

std::string capital(std::string text) {
  if (text.empty()) return text;
  if (text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  } else if (text.size() > 1 && text[0] == '\xc3') {
    // ä ö ü are U+00E4, U+00F6, U+00FC: 0x20 above Ä Ö Ü, in the second byte of UTF-8 too.
    const auto second = static_cast<unsigned char>(text[1]);
    if (second == 0xa4 || second == 0xb6 || second == 0xbc)
      text[1] = static_cast<char>(second - 0x20);
  }
  return text;
}

std::string number_in(Language language, double value, int decimals) {
  if (!std::isfinite(value)) return "–";
  std::string text = fmt::format("{:.{}f}", std::abs(value), decimals);
  const bool zero = text.find_first_not_of("0.") == std::string::npos;
  if (language == Language::german) std::ranges::replace(text, '.', ',');
  return (value < 0 && !zero ? "−" : "") + text;
}

std::string month_in(Language language, int year, int month) {
  return fmt::format("{} {}", say(language, fmt::format("month.{}", month)), year);
}
std::string date_in(Language language, int year, int month, int day) {
  return fmt::format("{}{} {}", day, language == Language::german ? "." : "",
                     month_in(language, year, month));
}

}  // namespace batten

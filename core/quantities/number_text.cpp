#include "core/quantities/number_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace batten {
namespace {

constexpr std::size_t longest_number = 40;  // characters
constexpr std::size_t longest_whole = 9;    // digits in each part of a fraction
constexpr std::int64_t largest_denominator = 1000;

constexpr std::array<std::string_view, 6> blanks{" ", "\t", "\u00a0", "\u2009", "\u202f", "\u2007"};
constexpr std::array<std::string_view, 2> minus_signs{"-", "\u2212"};
constexpr std::array<std::string_view, 2> slashes{"/", "\u2044"};

struct VulgarFraction {
  std::string_view character;
  std::int64_t numerator, denominator;
};
constexpr std::array<VulgarFraction, 18> vulgar_fractions{{
    {"½", 1, 2},
    {"⅓", 1, 3},
    {"⅔", 2, 3},
    {"¼", 1, 4},
    {"¾", 3, 4},
    {"⅕", 1, 5},
    {"⅖", 2, 5},
    {"⅗", 3, 5},
    {"⅘", 4, 5},
    {"⅙", 1, 6},
    {"⅚", 5, 6},
    {"⅐", 1, 7},
    {"⅛", 1, 8},
    {"⅜", 3, 8},
    {"⅝", 5, 8},
    {"⅞", 7, 8},
    {"⅑", 1, 9},
    {"⅒", 1, 10},
}};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

template <std::size_t N>
bool take_any(std::string_view& text, const std::array<std::string_view, N>& prefixes) {
  for (const std::string_view prefix : prefixes) {
    if (text.starts_with(prefix)) {
      text.remove_prefix(prefix.size());
      return true;
    }
  }
  return false;
}

void skip_blanks(std::string_view& text) {
  while (take_any(text, blanks)) {
  }
}

std::string_view take_digits(std::string_view& text) {
  std::size_t count = 0;
  while (count < text.size() && is_digit(text[count])) ++count;
  const std::string_view digits = text.substr(0, count);
  text.remove_prefix(count);
  return digits;
}

std::optional<std::int64_t> whole(std::string_view digits) {
  if (digits.empty() || digits.size() > longest_whole) return std::nullopt;
  std::int64_t value = 0;
  for (const char c : digits) value = 10 * value + (c - '0');
  return value;
}

struct Fraction {
  std::int64_t numerator = 0;
  std::int64_t denominator = 1;
};

// What may follow the digits of a number: nothing of a fraction, or one that is right or wrong.
struct FractionTaken {
  std::optional<Fraction> fraction;
  std::string wrong;  // a sentence, where it looks like a fraction and is none
};

FractionTaken take_vulgar(std::string_view& text) {
  for (const VulgarFraction& vulgar : vulgar_fractions) {
    if (text.starts_with(vulgar.character)) {
      text.remove_prefix(vulgar.character.size());
      return {.fraction = Fraction{vulgar.numerator, vulgar.denominator}, .wrong = {}};
    }
  }
  return {};
}

// "3/64" or "¾"; leaves `text` alone when neither stands there.
FractionTaken take_fraction(std::string_view& text) {
  std::string_view rest = text;
  const std::string_view top = take_digits(rest);
  if (top.empty()) return take_vulgar(text);
  skip_blanks(rest);
  if (!take_any(rest, slashes)) return {};
  skip_blanks(rest);
  const std::optional<std::int64_t> numerator = whole(top);
  const std::optional<std::int64_t> denominator = whole(take_digits(rest));
  if (!denominator) return {.fraction = {}, .wrong = "has no whole number behind the stroke."};
  if (*denominator == 0) return {.fraction = {}, .wrong = "divides by zero."};
  if (!numerator || *denominator > largest_denominator) {
    return {.fraction = {}, .wrong = fmt::format("is finer than a {}th.", largest_denominator)};
  }
  text = rest;
  return {.fraction = Fraction{*numerator, *denominator}, .wrong = {}};
}

// " 3/4", "-3/4" or "¾" behind a whole number.
FractionTaken take_mixed_fraction(std::string_view& text) {
  std::string_view rest = text;
  const bool hyphen = take_any(rest, minus_signs);
  if (!hyphen) skip_blanks(rest);
  FractionTaken taken = take_fraction(rest);
  if (!taken.fraction) return taken;
  if (taken.fraction->numerator >= taken.fraction->denominator) {
    return {.fraction = {}, .wrong = "has a fraction of one or more behind a whole number."};
  }
  text = rest;
  return taken;
}

// "45", "45.2", "45,2", ".4": the characters of a decimal number.
std::string_view take_decimal(std::string_view& text) {
  const auto is_part = [](char c) { return is_digit(c) || c == '.' || c == ','; };
  const auto* const end = std::find_if_not(text.begin(), text.end(), is_part);
  const std::string_view body = text.substr(0, static_cast<std::size_t>(end - text.begin()));
  text.remove_prefix(body.size());
  return body;
}

// Why a decimal number cannot be read, or nothing.
std::string wrong_with_decimal(std::string_view body) {
  const auto is_mark = [](char c) { return c == '.' || c == ','; };
  if (std::count_if(body.begin(), body.end(), is_mark) > 1) {
    return "has more than one decimal mark.";
  }
  const std::size_t mark = body.find_first_of(".,");
  if (mark == std::string_view::npos) return {};
  const std::string_view before = body.substr(0, mark);
  const std::string_view behind = body.substr(mark + 1);
  if (behind.empty()) return "has no digit behind the decimal mark.";
  const bool may_group = !before.empty() && before.front() != '0';
  if (body[mark] == ',' && behind.size() == 3 && may_group) {
    return fmt::format("could be {}{} or {}.{}.", before, behind, before, behind);
  }
  return {};
}

double decimal_value(std::string_view body) {
  std::array<char, longest_number> digits{};
  assert(body.size() <= digits.size());
  std::copy(body.begin(), body.end(), digits.begin());
  auto* const end = digits.begin() + body.size();
  std::replace(digits.begin(), end, ',', '.');
  double value = 0;
  [[maybe_unused]] const auto read =
      std::from_chars(digits.data(), digits.data() + body.size(), value, std::chars_format::fixed);
  assert(read.ec == std::errc{} && read.ptr == digits.data() + body.size());
  return value;
}

}  // namespace

std::string_view without_outer_blanks(std::string_view text) {
  skip_blanks(text);
  for (bool found = true; found;) {
    found = false;
    for (const std::string_view blank : blanks) {
      if (text.ends_with(blank)) {
        text.remove_suffix(blank.size());
        found = true;
      }
    }
  }
  return text;
}

std::string quoted(std::string_view text) {
  constexpr int longest_quote = 40;
  std::string shown;
  int characters = 0;
  while (!text.empty()) {
    if (characters++ == longest_quote) {
      shown += "…";
      break;
    }
    const auto lead = static_cast<unsigned char>(text.front());
    const std::size_t length = lead < 0x80   ? 1
                               : lead < 0xc2 ? 0
                               : lead < 0xe0 ? 2
                               : lead < 0xf0 ? 3
                               : lead < 0xf5 ? 4
                                             : 0;
    const auto is_continuation = [](char c) {
      return (static_cast<unsigned char>(c) & 0xc0U) == 0x80;
    };
    const std::string_view character = text.substr(0, length);
    const bool sound = length > 0 && character.size() == length && lead >= 0x20 && lead != 0x7f &&
                       std::all_of(character.begin() + 1, character.end(), is_continuation);
    shown += sound ? character : std::string_view("?");
    text.remove_prefix(sound ? length : 1);
  }
  return "“" + shown + "”";
}

Result<LeadingNumber> take_number(std::string_view text, std::string_view expected) {
  const std::string_view all = without_outer_blanks(text);
  const std::string todo =
      fmt::format("Write a number such as 45, 45.2 or 1 3/4; expected {}.", expected);
  const auto refuse = [&](std::string_view why) {
    return problem(quoted(all) + " " + std::string(why), todo);
  };
  if (all.empty()) return problem("Nothing was written.", todo);

  std::string_view rest = all;
  const bool negative = take_any(rest, minus_signs);
  if (!negative && rest.starts_with('+')) rest.remove_prefix(1);
  skip_blanks(rest);

  const std::string_view start = rest;
  FractionTaken taken = take_fraction(rest);
  std::int64_t whole_part = 0;
  double value = 0;
  if (!taken.fraction && taken.wrong.empty()) {
    const std::string_view body = take_decimal(rest);
    if (std::none_of(body.begin(), body.end(), is_digit)) return refuse("holds no number.");
    if (body.size() > longest_number) {
      return refuse(fmt::format("is a number longer than {} characters.", longest_number));
    }
    const std::string wrong = wrong_with_decimal(body);
    if (!wrong.empty()) return refuse(wrong);
    value = decimal_value(body);
    const std::optional<std::int64_t> before =
        std::all_of(body.begin(), body.end(), is_digit) ? whole(body) : std::nullopt;
    std::string_view behind = rest;
    taken = take_mixed_fraction(behind);
    if (taken.fraction && !before)
      return refuse("has a fraction behind a number that is not whole.");
    if (taken.fraction) {
      whole_part = *before;
      rest = behind;
    }
  }
  if (!taken.wrong.empty()) return refuse(taken.wrong);
  if (taken.fraction) {
    const auto [numerator, denominator] = *taken.fraction;
    // Below 2^53: both numbers, and so the quotient's rounding is the only one.
    value = static_cast<double>(whole_part * denominator + numerator) /
            static_cast<double>(denominator);
  }
  const std::size_t length = start.size() - rest.size();
  if (length > longest_number) {
    return refuse(fmt::format("is a number longer than {} characters.", longest_number));
  }
  rest = without_outer_blanks(rest);
  std::string_view next = rest;
  const bool sign = take_any(next, minus_signs);
  if (sign || (!next.empty() && (is_digit(next.front()) || next.front() == '+'))) {
    return refuse("holds more than one number.");
  }
  return LeadingNumber{negative ? -value : value, rest};
}

}  // namespace batten

#include "core/journal/uuid.hpp"

#include <cstddef>

namespace batten {
namespace {

constexpr std::size_t text_length = 36;
constexpr std::string_view digits = "0123456789abcdef";

bool is_hyphen_place(std::size_t place) {
  return place == 8 || place == 13 || place == 18 || place == 23;
}

// −1 if not a hexadecimal digit.
int digit_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

}  // namespace

std::string to_text(const Uuid& id) {
  std::string text;
  text.reserve(text_length);
  for (const std::uint8_t byte : id.bytes) {
    if (is_hyphen_place(text.size())) text += '-';
    text += digits[byte >> 4U];
    text += digits[byte & 15U];
  }
  return text;
}

Result<Uuid> parse_uuid(std::string_view text) {
  const auto refusal = [&] {
    return problem("\"" + std::string(text) + "\" is not an identity.",
                   "An identity looks like f81d4fae-7dec-11d0-a765-00a0c91e6bf6.");
  };
  if (text.size() != text_length) return refusal();
  Uuid id;
  std::size_t nibble = 0;
  for (std::size_t place = 0; place < text_length; ++place) {
    if (is_hyphen_place(place)) {
      if (text[place] != '-') return refusal();
      continue;
    }
    const int value = digit_value(text[place]);
    if (value < 0) return refusal();
    std::uint8_t& byte = id.bytes[nibble / 2];
    byte = static_cast<std::uint8_t>(byte * 16 + value);
    ++nibble;
  }
  return id;
}

}  // namespace batten

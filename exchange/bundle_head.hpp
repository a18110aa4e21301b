// The checksum in a bundle's first line. Internal to exchange.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace batten {

inline constexpr std::string_view bundle_format = "batten-bundle";
inline constexpr std::string_view sha256_mark = "\"sha256\":\"";
inline constexpr std::size_t sha256_digits = 64;

// Where the digits begin: after the mark, which stands in the first 200 bytes. Nothing: it does
// not.
inline std::optional<std::size_t> sha256_place(std::string_view text) {
  const std::size_t mark = text.substr(0, 200).find(sha256_mark);
  if (mark == std::string_view::npos) return std::nullopt;
  const std::size_t place = mark + sha256_mark.size();
  if (text.size() < place + sha256_digits) return std::nullopt;
  return place;
}

// SHA-256 (FIPS 180-4) of the text with the digits at `place` taken for zeros, in hexadecimal.
std::string sha256_without_digits(std::string_view text, std::size_t place);

}  // namespace batten

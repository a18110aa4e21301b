// Identity of a piano, a visit, an entry: 128 bits, RFC 9562. Made outside core (it needs chance).
#pragma once

#include "core/outcome/outcome.hpp"

#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

namespace batten {

struct Uuid {
  std::array<std::uint8_t, 16> bytes{};
  auto operator<=>(const Uuid&) const = default;
  bool is_nil() const { return *this == Uuid{}; }
};

// "f81d4fae-7dec-11d0-a765-00a0c91e6bf6", lower case (RFC 9562, section 4).
std::string to_text(const Uuid& id);
// Either case is read. Any version and variant, nil included. Error: not 36 characters of that
// form.
Result<Uuid> parse_uuid(std::string_view text);

}  // namespace batten

// Phones and tablets that were paired with this store.
#pragma once

#include "core/journal/uuid.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string>

namespace batten {

struct Device {
  Uuid id;
  std::string name;
  // SHA-256 of the token that the device alone has.
  std::array<std::uint8_t, 32> token_sha256{};
  // Unix time, milliseconds, UTC.
  std::int64_t paired_ms = 0;
  std::int64_t seen_ms = 0;
  std::optional<std::int64_t> revoked_ms = {};  // nothing: it may come in
  bool operator==(const Device&) const = default;
};

}  // namespace batten

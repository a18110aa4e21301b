// What a store keeps beside journals: the workshop's logo, and what was reckoned lately.
#pragma once

#include "core/journal/uuid.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace batten {

inline constexpr std::size_t most_logo_bytes = std::size_t{1} << 20U;

struct Logo {
  std::string media_type;  // image/png or image/jpeg
  std::vector<std::uint8_t> bytes;
  bool operator==(const Logo&) const = default;
};

// A text that whoever keeps it understands, true of the piano's journal at that revision.
struct KeptOutlook {
  Uuid piano;
  std::int64_t revision = 0;
  std::string model;  // which reckoning made it: another is not to be used
  std::string text;
  bool operator==(const KeptOutlook&) const = default;
};

}  // namespace batten

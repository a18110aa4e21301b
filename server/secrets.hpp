// Chance, digests and comparisons on which access rests; OpenSSL's.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace batten::server {

using Digest = std::array<std::uint8_t, 32>;

// FIPS 180-4.
Digest sha256(std::string_view bytes);
// Two small letters or digits a byte.
std::string to_hex(const Digest& digest);

// 256 bits from the system's generator, as 64 hexadecimal digits. Throws std::runtime_error if
// there are none to be had.
std::string random_token();
// `digits` decimal digits, each as likely as the others.
std::string random_digits(int digits);

// In a time that says nothing of where they differ; only whether the lengths do.
bool same_secret(std::string_view one, std::string_view other);

}  // namespace batten::server

#include "server/secrets.hpp"

#include <openssl/crypto.h>
#include <openssl/evp.h>
#include <openssl/rand.h>
#include <stdexcept>

namespace batten::server {

namespace {

void fill(std::uint8_t* bytes, int count) {
  if (RAND_bytes(bytes, count) != 1) throw std::runtime_error("the system gives no random numbers");
}

}  // namespace

Digest sha256(std::string_view bytes) {
  Digest digest{};
  unsigned size = 0;
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &size, EVP_sha256(), nullptr) != 1)
    throw std::runtime_error("SHA-256 is not to be had");
  return digest;
}

std::string to_hex(const Digest& digest) {
  constexpr std::string_view figures = "0123456789abcdef";
  std::string text;
  for (const std::uint8_t byte : digest) {
    text += figures[byte >> 4U];
    text += figures[byte & 15U];
  }
  return text;
}

std::string random_token() {
  Digest bytes{};
  fill(bytes.data(), static_cast<int>(bytes.size()));
  return to_hex(bytes);
}

std::string random_digits(int digits) {
  std::string text;
  while (text.size() < static_cast<std::size_t>(digits)) {
    std::uint8_t byte = 0;
    fill(&byte, 1);
    // 250 is the last multiple of ten: what lies above would favour the small digits.
    if (byte < 250) text += static_cast<char>('0' + byte % 10);
  }
  return text;
}

bool same_secret(std::string_view one, std::string_view other) {
  return one.size() == other.size() && CRYPTO_memcmp(one.data(), other.data(), one.size()) == 0;
}

}  // namespace batten::server

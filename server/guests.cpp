#include "server/guests.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace batten::server {

namespace {

// So that a request does not cost a write: an estimate.
constexpr std::int64_t ten_minutes_ms = 600'000;

}  // namespace

std::string print_device_cookie(const std::string& token) {
  return fmt::format("{}={}; Path=/; Max-Age=34560000; Secure; HttpOnly; SameSite=Strict",
                     device_cookie, token);
}

void Guests::know(const std::vector<Device>& devices) {
  std::map<Digest, Device> all;
  for (const Device& device : devices)
    if (!device.revoked_ms) all.emplace(device.token_sha256, device);
  by_token_ = std::move(all);
}

std::optional<Device> Guests::find(std::string_view token) const {
  if (token.empty()) return std::nullopt;
  const auto found = by_token_.find(sha256(token));
  if (found == by_token_.end()) return std::nullopt;
  return found->second;
}

bool Guests::knows(const std::string& id) const {
  return std::any_of(by_token_.begin(), by_token_.end(),
                     [&](const auto& one) { return to_text(one.second.id) == id; });
}

bool Guests::is_news(const Digest& token, std::int64_t now_ms) {
  const auto found = by_token_.find(token);
  if (found == by_token_.end() || now_ms - found->second.seen_ms < ten_minutes_ms) return false;
  found->second.seen_ms = now_ms;
  return true;
}

}  // namespace batten::server

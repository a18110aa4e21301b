// Which phones and tablets may come in by the network's door. Belongs to the network's thread.
#pragma once

#include "records/devices.hpp"
#include "server/secrets.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten::server {

// "__Host-": the browser takes it only with Secure, for this host and every path (RFC
// 6265bis, 4.1.3).
inline constexpr std::string_view device_cookie = "__Host-batten";
// 400 days, the longest browsers keep one (RFC 6265bis, 5.5).
std::string print_device_cookie(const std::string& token);

class Guests {
 public:
  // As the store has them; those revoked are forgotten.
  void know(const std::vector<Device>& devices);
  // Whose token it is. Looked up by its digest, so that time says nothing of it.
  std::optional<Device> find(std::string_view token) const;
  bool knows(const std::string& id) const;

  // Whether its last request is so long ago that this one should be written down.
  bool is_news(const Digest& token, std::int64_t now_ms);

 private:
  std::map<Digest, Device> by_token_;
};

}  // namespace batten::server

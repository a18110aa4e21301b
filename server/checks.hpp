// What a request must be before anyone answers it: its address, the name it calls us by, where it
// comes from. No sockets here.
#pragma once

#include "core/outcome/outcome.hpp"
#include "server/http.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace batten::server {

// A request's head, as far as it matters. Texts as they came.
struct Head {
  std::string method, target;
  std::string host, origin, fetch_site, fetch_mode, token, content_type, cookie, known_tag;
  std::size_t hosts = 0;                // Host lines
  std::optional<std::uint64_t> length;  // of the body, where it says so
  bool chunked = false;
  bool paired_only = false;  // came by the network's door: everything under /api needs a device
  std::string address;       // where from, without port
};

// The door it came by.
struct Door {
  std::vector<std::string> names;  // it may be called by, small letters: "localhost", "[::1]"
  std::uint16_t port = 0;
  bool tls = false;
};

struct Target {
  std::string path;
  std::map<std::string, std::string> query;
};

// Path and query, decoded. Nothing: an encoded slash, a backslash, a control character, "." or
// "..", an empty part, bytes that are no UTF-8, an escape that is none, or no path at all.
std::optional<Target> parse_target(std::string_view target);

// Nothing where all is well; else the answer: 400, 403 or 421. Keeps pages of other sites from
// using the server with the browser's hands (DNS rebinding, cross-site requests).
std::optional<Response> check_origin(const Head& head, const Door& door, bool is_api);

// "application/json", with or without parameters.
bool is_json(std::string_view content_type);

// A cookie's value; empty if it is not there.
std::string cookie(std::string_view line, std::string_view name);

// UTF-8 without control characters (Unicode 15, table 3-7: no overlong forms, no surrogates).
bool is_plain_text(std::string_view text);

}  // namespace batten::server

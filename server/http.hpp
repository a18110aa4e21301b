// What an answerer sees of a request and says in return: no sockets here.
#pragma once

#include "core/outcome/outcome.hpp"

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>

namespace batten::server {

enum class Method : std::uint8_t { get, post, put, remove };

// Checked already: host, origin, token and sizes.
struct Request {
  Method method = Method::get;
  std::string path;                          // decoded, begins with '/', no "..", no empty parts
  std::map<std::string, std::string> query;  // decoded
  std::map<std::string, std::string> parts;  // what stood at the {names} of the route's pattern
  std::string body;                          // UTF-8 JSON up to the route's limit, or empty
  std::string device;                        // name of the paired device; empty: this machine

  // Empty where it is not there.
  const std::string& part(const std::string& name) const;
  const std::string& asked(const std::string& name) const;
};

struct Response {
  int status = 200;
  std::string type = "application/json";
  // Shared with the cache it may come from; never null once answered.
  std::shared_ptr<const std::string> body = std::make_shared<const std::string>();
  std::map<std::string, std::string> headers = {};
};

// 200 with JSON text.
Response ok(std::string json);
// 200 with a file to keep: its media type ("application/pdf") and the name it is offered under, of
// which only letters, figures, '-', '_' and '.' of ASCII are kept beside the whole name in UTF-8
// (RFC 6266, RFC 8187). `inline_shown`: a browser may show it instead of saving it.
Response file_response(std::string bytes, std::string type, std::string_view name,
                       bool inline_shown = false);
// {"problem":{"happened","kept","todo"}}; 400 unless said otherwise.
Response refused(const Problem& problem, int status = 400);
// 404 of a thing named in the path.
Response not_there(const Problem& problem);

}  // namespace batten::server

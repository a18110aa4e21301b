// Decides what becomes of a request when its head is there, and answers what is the server's own.
// No sockets; belongs to the thread that does the network's work.
#pragma once

#include "server/checks.hpp"
#include "server/lanes.hpp"
#include "server/limits.hpp"
#include "server/site.hpp"
#include "server/streams.hpp"

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>

namespace batten::server {

using Reply = std::function<void(Response)>;  // once, from any thread

struct Decision {
  // One of the three.
  std::optional<Response> answer;  // at once, without looking at a body
  bool stream = false;             // of events, for ?piano= and the request's device
  std::function<void(Request&&, const Reply&)> work;  // when the body is there

  Request request = {};
  std::string device = {};    // identity of the paired device
  std::size_t most_body = 0;  // bytes
};

class Reception {
 public:
  struct Parts {
    const Limits& limits;
    std::span<const Route> routes;
    Site& site;
    Lanes& lanes;
    Streams& streams;
    std::string who, version;
    // Has something done by the network's thread, soon.
    std::function<void(std::function<void()>)> on_network;
  };
  explicit Reception(Parts parts);

  Decision decide(const Head& head, const Door& door);
  // A request that could not be read to its end, or at all.
  static Response cannot_read(int status);

 private:
  Decision own(const Head& head, Request request);
  Decision in_lane(const Route& route, Request request);
  // Of the methods there are, those this address knows: "GET, HEAD".
  std::string allowed(const Request& request) const;
  std::optional<Response> check_writing(const Head& head) const;
  Response session(const std::string& device, bool lan) const;

  Parts parts_;
  std::string token_;
};

}  // namespace batten::server

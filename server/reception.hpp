// Decides what becomes of a request when its head is there, and answers what is the server's own.
// No sockets; belongs to the thread that does the network's work.
#pragma once

#include "server/checks.hpp"
#include "server/guests.hpp"
#include "server/lanes.hpp"
#include "server/limits.hpp"
#include "server/pairing.hpp"
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

// The server's own addresses; their answerers are not the lanes'. Device lists and new codes are
// for this machine alone.
std::span<const Route> own_routes();

class Reception {
 public:
  struct Parts {
    const Limits& limits;
    std::span<const Route> routes;
    Site& site;
    Lanes& lanes;
    Streams& streams;
    Guests& guests;
    std::string who, version;
    std::string lan_url, fingerprint;  // of the network's door; empty: there is none
    std::function<std::int64_t()> now_ms;
    // Has something done by the network's thread, soon.
    std::function<void(std::function<void()>)> on_network;
  };
  explicit Reception(Parts parts);

  Decision decide(const Head& head, const Door& door);
  // A request that could not be read to its end, or at all.
  static Response cannot_read(int status);

  // A new pairing code; the one before ends.
  Pairing::Code new_code() { return pairing_.make(); }

 private:
  Decision own(const Head& head, const Route& route, Request request);
  Decision in_lane(const Route& route, Request request);
  // Of the methods there are, those this address knows: "GET, HEAD".
  std::string allowed(std::span<const Route> routes, const Request& request) const;
  std::optional<Response> check_writing(const Head& head, bool needs_token, bool any_body) const;
  Response session(const std::string& device) const;
  Response pairing();
  void pair(const std::string& address, const Request& request, const Reply& reply);
  void list_devices(const Reply& reply);
  void revoke(const Request& request, const Reply& reply);
  void note_seen(const Device& device);

  // A job of the desk's lane whose answer may be that it failed.
  void at_desk(const Reply& reply, std::function<Response(Answering&)> work);

  Parts parts_;
  std::string token_;
  Pairing pairing_;
};

}  // namespace batten::server

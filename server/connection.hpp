// One client's connection. Internal: the only header with sockets in it, for connection.cpp and
// serve.cpp.
#pragma once

#include "server/checks.hpp"
#include "server/limits.hpp"
#include "server/reception.hpp"
#include "server/streams.hpp"

#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/ssl/context.hpp>
#include <cstddef>
#include <map>
#include <memory>
#include <set>
#include <string>

namespace batten::server {

class AnyConnection {
 public:
  virtual ~AnyConnection() = default;
  // No further request: closes it now, or behind the answer to one that has arrived whole.
  virtual void wind_down() = 0;
  virtual void cut() = 0;
};

// What connections have in common. All of it belongs to the thread that runs `io`.
struct Network {
  boost::asio::io_context& io;
  const Limits& limits;
  Reception* reception;
  Streams& streams;

  std::set<std::shared_ptr<AnyConnection>> open = {};
  std::map<std::string, std::size_t> by_address = {};
  std::size_t body_bytes = 0;  // promised to bodies that are not answered yet
  bool stopping = false;
};

// Begins to serve it; it lives in `network.open` until it is closed. `door` outlives it.
void serve_plain(Network& network, const Door& door, boost::asio::ip::tcp::socket socket);
void serve_tls(Network& network, const Door& door, boost::asio::ip::tcp::socket socket,
               boost::asio::ssl::context& tls);

}  // namespace batten::server

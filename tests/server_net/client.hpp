// A client of bare sockets: it can send what no well-behaved client would.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>

struct ssl_st;

namespace batten::server::tests {

struct Answer {
  int status = 0;                              // 0: closed without one
  std::map<std::string, std::string> headers;  // names in small letters
  std::string body;
};

class Client {
 public:
  // To 127.0.0.1. Waits at most half a minute for anything; a test that runs into it has failed.
  explicit Client(std::uint16_t port, bool tls = false);
  ~Client();
  Client(Client&& other) noexcept;
  Client& operator=(Client&&) = delete;
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;

  bool is_open() const { return socket_ >= 0; }
  // False: the other side does not take it any more.
  bool send(std::string_view bytes);
  // The next answer; `bare`: to a HEAD request, no body whatever its length says.
  Answer read(bool bare = false);
  // Up to where `end` has been seen, or the other side closed.
  std::string read_until(std::string_view end);
  // Whether the other side closes without another byte but those already there.
  bool is_closed_by_server();

 private:
  bool more();  // reads once into rest_

  int socket_ = -1;
  ssl_st* tls_ = nullptr;
  std::string rest_;
};

// "GET /api/x HTTP/1.1", Host and `lines`, each ended by CR LF.
std::string get(std::uint16_t port, std::string_view target, std::string_view lines = {});
std::string post(std::uint16_t port, std::string_view target, std::string_view body,
                 std::string_view lines = {});

}  // namespace batten::server::tests

// A server of the test's own routes and short limits, on free ports, over a store of its own.
#pragma once

#include "server/serve.hpp"
#include "tests/records/samples.hpp"
#include "tests/server_net/client.hpp"

#include <gmock/gmock.h>
#include <memory>
#include <string>

namespace batten::server::tests {

// What a test may wait for while a request is in the plan lane: GET /api/gate answers when it
// opens.
struct Gate {
  static void close();
  static void open();
};

class ServedTest : public testing::Test {
 protected:
  ~ServedTest() override { Gate::open(); }

  ServeOptions options();
  // Starts, or starts anew, what `options_` says.
  void serve();
  std::uint16_t port() const { return server_->port(); }
  Client client() const { return Client(port()); }
  // One request on a connection of its own.
  Answer ask(const std::string& request) const;
  Answer get_answer(const std::string& target, const std::string& lines = {}) const;
  Answer post_answer(const std::string& target, const std::string& body,
                     const std::string& lines = {}) const;
  // "X-Batten-Token: …\r\n" of this server.
  std::string token_line() const;
  // Until so many are open, or half a minute.
  bool wait_for_connections(std::size_t count) const;
  bool wait_for_streams(std::size_t count) const;

  samples::Folder folder_;
  ServeOptions options_ = options();
  std::unique_ptr<Server> server_;
};

// {"problem": {…}} with a sentence in it.
MATCHER_P(RefusedWith, status, "") {
  return arg.status == status && arg.body.find("\"happened\": \"") != std::string::npos &&
         arg.body.find("\"happened\": \"\"") == std::string::npos;
}

}  // namespace batten::server::tests

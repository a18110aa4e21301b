// The least that Beast can do: the same bytes to every request, without looking at it. What stands
// between it and our server is what checks, routes, lanes and the store cost.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

namespace batten::benchmarks {

class BareServer {
 public:
  explicit BareServer(std::string body);
  ~BareServer();
  std::uint16_t port() const;

 private:
  class Work;
  std::unique_ptr<Work> work_;
};

}  // namespace batten::benchmarks

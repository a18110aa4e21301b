// Looks whether another program has written to the store, and says what is new. Belongs to one
// lane.
#pragma once

#include "records/store.hpp"
#include "server/answering.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace batten::server {

class Watch {
 public:
  struct News {
    std::vector<Event> events;
    std::vector<Device> devices;
  };
  // Nothing: nobody else has written since it was asked last. The first time everything is new, and
  // no events are told. What this store itself wrote is not looked for; where others wrote too it
  // is told again, and a listener that knows the revision does nothing.
  std::optional<News> look(Store& store);

 private:
  std::optional<std::int64_t> version_;
  std::map<std::string, std::int64_t> revisions_;  // by the piano's identity
};

}  // namespace batten::server

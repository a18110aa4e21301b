// What answerers share: the desk of their lane, and what was reckoned before.
#pragma once

#include "app/desk.hpp"
#include "core/journal/entry.hpp"
#include "server/cache.hpp"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace batten::server {

// Told to every event stream of a piano.
struct Event {
  std::string piano;  // identity; empty: to all
  std::string name;   // "entries", "changed", "pianos"
  std::string data;   // JSON, one line
};

struct Answering {
  Desk& desk;    // of this lane's thread
  Cache& cache;  // shared by the lanes, locks itself
  // Hands an event to the streams; safe from every lane.
  std::function<void(Event)> tell;
};

}  // namespace batten::server

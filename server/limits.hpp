// What the server allows itself to be asked for. Every figure is an estimate: room for a workshop
// of some ten devices, far below what would trouble a small computer. Tests choose smaller ones.
#pragma once

#include <chrono>
#include <cstddef>

namespace batten::server {

struct Limits {
  std::size_t header = std::size_t{8} * 1024;          // bytes of a request's head; then 431
  std::size_t target = 2048;                           // bytes of its address; then 414
  std::size_t answer = std::size_t{64} * 1024 * 1024;  // bytes; a longer answer is not sent
  std::size_t bodies = std::size_t{64} * 1024 * 1024;  // bytes of all bodies held at once; then 503
  std::size_t drain = std::size_t{64} * 1024 * 1024;   // bytes taken after a refusal
  std::size_t connections = 640;                       // in total
  std::size_t connections_here = 576;                  // from this machine
  std::size_t connections_there = 48;                  // from any other address
  std::size_t streams = 100;                           // event streams in total; then 503
  std::size_t stream_queue = std::size_t{512} * 1024;  // bytes waiting for a slow reader
  std::size_t queue = 64;                              // requests waiting in a lane; then 503
  std::size_t cache = std::size_t{8} * 1024 * 1024;    // bytes of answers kept
  std::chrono::milliseconds header_time{10'000};       // from its first byte; then 408
  std::chrono::milliseconds body_time{15'000};         // whole body; then 408
  std::chrono::milliseconds idle_time{60'000};         // between requests; then closed
  std::chrono::milliseconds write_time{30'000};        // an answer the client does not take
  std::chrono::milliseconds drain_time{5'000};         // after a refusal
  std::chrono::milliseconds beat{10'000};              // comment on silent event streams
  std::chrono::milliseconds poll{500};                 // whether another program has written
  std::chrono::milliseconds backup_look{600'000};      // whether a backup is due
  std::chrono::milliseconds stop_time{2'000};          // answers under way when it ends
};

}  // namespace batten::server

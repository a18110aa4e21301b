// Who is listening to events. Belongs to the one thread that does the network's work.
#pragma once

#include "server/answering.hpp"

#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace batten::server {

class EventStream {
 public:
  virtual ~EventStream() = default;
  // To be sent behind what is waiting. A reader too slow for it is closed by the stream itself.
  virtual void push(const std::shared_ptr<const std::string>& text) = 0;
  virtual void end_stream() = 0;

  std::string piano;   // identity; empty: events of every piano
  std::string device;  // identity of the paired device; empty: this machine
};

class Streams {
 public:
  explicit Streams(std::size_t most) : most_(most) {}

  bool is_full() const { return all_.size() >= most_; }
  std::size_t count() const { return all_.size(); }
  void add(const std::shared_ptr<EventStream>& stream);
  void remove(const EventStream* stream);

  void tell(const Event& event);
  void beat();
  // Those of a device that may not listen any more.
  void end_if(const std::function<bool(const std::string& device)>& unwanted);

 private:
  std::size_t most_;
  std::vector<std::shared_ptr<EventStream>> all_;
};

// As on the wire: "event: name", one "data:" for every line, an empty line (WHATWG HTML, 9.2.5).
std::string print_event(const Event& event);

}  // namespace batten::server

// The threads that answer: one a lane, each with its own open store.
#pragma once

#include "core/outcome/outcome.hpp"
#include "server/answering.hpp"
#include "server/routes.hpp"

#include <array>
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

namespace batten::server {

using Job = std::function<void(Answering&)>;

class LaneThread {
 public:
  // Jobs must not throw.
  LaneThread(Desk desk, Cache& cache, std::function<void(Event)> tell, std::size_t most_waiting);
  ~LaneThread() { stop(true); }
  LaneThread(const LaneThread&) = delete;
  LaneThread& operator=(const LaneThread&) = delete;

  // False: too many are waiting, or it has been stopped. From any thread.
  bool submit(Job job);
  // Ends the thread behind the job it is at; `all`: behind every job that was waiting. The others
  // are destroyed without being run.
  void stop(bool all);

 private:
  void work();

  Desk desk_;
  Answering answering_;
  std::size_t most_waiting_;
  std::mutex lock_;
  std::condition_variable more_;
  std::deque<Job> waiting_;
  bool stopping_ = false;
  std::thread thread_;
};

class Lanes {
 public:
  static Result<std::unique_ptr<Lanes>> open(const std::filesystem::path& store,
                                             const std::string& who, Cache& cache,
                                             const std::function<void(Event)>& tell,
                                             std::size_t most_waiting);
  bool submit(Lane lane, Job job) { return at(lane).submit(std::move(job)); }
  // What was to be written down is; plans nobody waits for are not made.
  void stop();

 private:
  LaneThread& at(Lane lane) { return *lanes_[static_cast<std::size_t>(lane)]; }

  std::array<std::unique_ptr<LaneThread>, 3> lanes_;
};

}  // namespace batten::server

#include "server/lanes.hpp"

#include <utility>

namespace batten::server {

LaneThread::LaneThread(Desk desk, Cache& cache, std::function<void(Event)> tell,
                       std::size_t most_waiting)
    : desk_(std::move(desk)),
      answering_{desk_, cache, std::move(tell)},
      most_waiting_(most_waiting),
      thread_([this] { work(); }) {}

bool LaneThread::submit(Job job) {
  {
    const std::lock_guard hold(lock_);
    if (stopping_ || waiting_.size() >= most_waiting_) return false;
    waiting_.push_back(std::move(job));
  }
  more_.notify_one();
  return true;
}

void LaneThread::stop(bool all) {
  std::deque<Job> left;
  {
    const std::lock_guard hold(lock_);
    stopping_ = true;
    if (!all) left.swap(waiting_);
  }
  more_.notify_one();
  if (thread_.joinable()) thread_.join();
}

void LaneThread::work() {
  for (;;) {
    Job job;
    {
      std::unique_lock hold(lock_);
      more_.wait(hold, [this] { return stopping_ || !waiting_.empty(); });
      if (waiting_.empty()) return;
      job = std::move(waiting_.front());
      waiting_.pop_front();
    }
    job(answering_);
  }
}

Result<std::unique_ptr<Lanes>> Lanes::open(const std::filesystem::path& store,
                                           const std::string& who, Cache& cache,
                                           const std::function<void(Event)>& tell,
                                           std::size_t most_waiting) {
  auto lanes = std::make_unique<Lanes>();
  for (auto& lane : lanes->lanes_) {
    auto desk = open_desk(store, who);
    if (!desk) return tl::unexpected(desk.error());
    lane = std::make_unique<LaneThread>(std::move(*desk), cache, tell, most_waiting);
  }
  return lanes;
}

void Lanes::stop() {
  for (const Lane lane : {Lane::plan, Lane::model, Lane::desk}) at(lane).stop(lane == Lane::desk);
}

}  // namespace batten::server

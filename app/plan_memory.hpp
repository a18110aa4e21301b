// Plans and their models kept between questions, so that a plan is made once for every answer that
// is drawn from it and, after an entry, without calculating the mechanism again.
#pragma once

#include "app/plan_job.hpp"

#include <cstddef>
#include <cstdint>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>

namespace batten {

// What is in use, by key; the one not asked for longest goes first. Safe from every thread.
template <class Value>
class Lately {
 public:
  explicit Lately(std::size_t most) : most_(most) {}

  std::shared_ptr<const Value> find(const std::string& key) {
    const std::lock_guard hold(lock_);
    for (auto it = kept_.begin(); it != kept_.end(); ++it)
      if (it->first == key) {
        kept_.splice(kept_.begin(), kept_, it);
        return it->second;
      }
    return nullptr;
  }
  std::shared_ptr<const Value> keep(const std::string& key, Value value) {
    auto shared = std::make_shared<const Value>(std::move(value));
    const std::lock_guard hold(lock_);
    kept_.remove_if([&](const auto& k) { return k.first == key; });
    kept_.emplace_front(key, shared);
    if (kept_.size() > most_) kept_.pop_back();
    return shared;
  }

 private:
  std::mutex lock_;
  std::size_t most_;
  std::list<std::pair<std::string, std::shared_ptr<const Value>>> kept_;
};

// A model is about 90 kB, a plan of 88 notes and a thousand entries about 1 MB.
class PlanMemory {
 public:
  explicit PlanMemory(std::size_t most_plans = 8, std::size_t most_models = 8)
      : plans_(most_plans), models_(most_models) {}

  // plan_work, once for each state of the journal and span of minutes. Of the plan's `progress`
  // only the time since the last entry hangs on the clock: it is that of when the plan was made.
  // About 20 ms after an entry, 160 ms where profile, compass or targets are new. Errors: as
  // plan_work.
  Result<std::shared_ptr<const PianoPlan>> plan(Desk& desk, const Piano& piano,
                                                const PlanRequest& request = {});
  // The model by itself, of what stands on record. Errors: as plan_work.
  Result<std::shared_ptr<const ActionModel>> model(const Standing& standing, const Piano& piano);

 private:
  Lately<PianoPlan> plans_;
  Lately<ActionModel> models_;
};

// How far the piano's journal has grown: its number of entries, undone ones and undos included.
// Error: no such piano.
Result<std::int64_t> revision_of(Desk& desk, const Piano& piano);

}  // namespace batten

#include "server/cache.hpp"

#include <utility>

namespace batten::server {

Cache::Text Cache::find(const std::string& key) {
  const std::lock_guard hold(lock_);
  const auto found = kept_.find(key);
  if (found == kept_.end()) return nullptr;
  by_use_.splice(by_use_.begin(), by_use_, found->second.place);
  return found->second.text;
}

Cache::Text Cache::keep(const std::string& key, std::string text) {
  auto shared = std::make_shared<const std::string>(std::move(text));
  const std::lock_guard hold(lock_);
  if (const auto old = kept_.find(key); old != kept_.end()) {
    bytes_ -= old->second.text->size();
    by_use_.erase(old->second.place);
    kept_.erase(old);
  }
  by_use_.push_front(key);
  kept_.emplace(key, Kept{shared, by_use_.begin()});
  bytes_ += shared->size();
  while (bytes_ > most_bytes_ && by_use_.size() > 1) {
    const auto last = kept_.find(by_use_.back());
    bytes_ -= last->second.text->size();
    kept_.erase(last);
    by_use_.pop_back();
  }
  return shared;
}

}  // namespace batten::server

#include "server/watch.hpp"

#include <fmt/format.h>

#include <utility>

namespace batten::server {

std::optional<Watch::News> Watch::look(Store& store) {
  const std::int64_t version = store.data_version();
  if (version_ == version) return std::nullopt;
  News news;
  std::map<std::string, std::int64_t> now;
  for (const PianoSummary& one : store.pianos()) now[to_text(one.piano.id)] = one.entry_count;
  if (version_) {
    bool new_piano = false;
    for (const auto& [piano, revision] : now) {
      const auto before = revisions_.find(piano);
      new_piano = new_piano || before == revisions_.end();
      if (before != revisions_.end() && before->second == revision) continue;
      news.events.push_back(
          {piano, "changed", fmt::format("{{\"piano\":\"{}\",\"revision\":{}}}", piano, revision)});
    }
    if (new_piano) news.events.push_back({{}, "pianos", "{}"});
  }
  news.devices = store.devices();
  version_ = version;
  revisions_ = std::move(now);
  return news;
}

}  // namespace batten::server

// What was reckoned before, so that the same question costs nothing until the journal has grown.
#pragma once

#include "app/brief_memory.hpp"
#include "app/complaint_memory.hpp"
#include "app/note_job.hpp"
#include "app/plan_memory.hpp"

#include <cstddef>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <string>
#include <unordered_map>

namespace batten::server {

// Answers by what was asked and the journal's revision. Holds at most `most_bytes` of them; the one
// not asked for longest goes first. Safe from every thread.
class Cache {
 public:
  explicit Cache(std::size_t most_bytes) : most_bytes_(most_bytes) {}

  using Text = std::shared_ptr<const std::string>;
  Text find(const std::string& key);
  Text keep(const std::string& key, std::string text);

  PlanMemory plans;            // made lately, at most about 10 MB; see plan_for
  BriefMemory briefs{plans};   // about 3 MB at most
  ComplaintMemory complaints;  // about 5 MB at most
  NoteMemory notes{24};        // about 4 MB

 private:
  struct Kept {
    Text text;
    std::list<std::string>::iterator place;
  };
  std::mutex lock_;
  std::size_t most_bytes_, bytes_ = 0;
  std::list<std::string> by_use_;  // newest first
  std::unordered_map<std::string, Kept> kept_;
};

}  // namespace batten::server

// From the journal to what holds now.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/journal/entry.hpp"

namespace batten {

struct PreparationRecord {
  PreparationState state;
  std::string reason;
  std::int64_t at_ms;
};

// What holds after all entries: undone ones left out, order kept (journal order).
struct Standing {
  std::vector<Entry> readings;  // content is ReadingTaken
  std::vector<Entry> moves;     // content is MoveMade
  std::vector<Entry> remarks;
  // The last word on each item for the whole piano, and for single notes that differ from it.
  std::map<PreparationItem, PreparationRecord> preparation;
  std::map<std::pair<PreparationItem, Key>, PreparationRecord> preparation_of_note;
  std::map<std::string, std::string> settings;
};

// `entries` in journal order. An undo of an unknown entry does nothing (it may arrive later, from
// another technician's journal). An undone undo restores.
Standing fold(const std::vector<Entry>& entries);

// The newest entry that an `undo` would take back: the last one that is in force and is not itself
// an undo. Nothing if there is none.
std::optional<Entry> last_in_force(const std::vector<Entry>& entries);

}  // namespace batten

// From the journal to what holds now.
#pragma once

#include "core/journal/entry.hpp"

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace batten {

struct PreparationRecord {
  PreparationState state = PreparationState::found;
  std::string reason;
  std::int64_t at_ms = 0;  // Unix time, milliseconds, UTC
  Uuid visit;
  bool operator==(const PreparationRecord&) const = default;
};

// What holds after all entries: those in force, order kept (journal order).
struct Standing {
  std::vector<Entry> readings;  // content is ReadingTaken
  std::vector<Entry> moves;     // content is MoveMade
  std::vector<Entry> remarks;   // content is Remark
  // Content is MoveSkipped: those that still stand. A skip ends with a later move of its adjuster
  // at its note, a later reading there that shows what the adjuster sets (catalogue), or a later
  // skip of the same; a skip of every note with a move of that adjuster anywhere. A reading without
  // a note is of all notes.
  std::vector<Entry> skips;
  // Where each reading, move and skip stands in the journal: which came first is told by place, not
  // by clock.
  std::vector<std::size_t> reading_places, move_places, skip_places;
  // The last word on each item for the whole piano.
  std::map<PreparationItem, PreparationRecord> preparation;
  // The last word on single notes since then: a word for the whole piano covers every note, so
  // it clears what was said of single notes before it.
  std::map<std::pair<PreparationItem, Key>, PreparationRecord> preparation_of_note;
  std::map<std::string, std::string> settings;  // the last value of each
  // Where in the journal a setting last became something else than before, and what it was ("": not
  // on record).
  struct Change {
    std::size_t place = 0;
    std::string before;
    bool operator==(const Change&) const = default;
  };
  std::map<std::string, Change> setting_changes;
  Uuid visit;  // of the last entry in force; nil for none
  bool operator==(const Standing&) const = default;
};

// Which entries are in force, one answer per entry, same order. An entry is in force unless an undo
// that is itself in force names it; so an undone undo restores, and two undos of one entry must
// both be undone to restore it. Where in the vector an undo stands does not matter: journals of two
// technicians may be joined in any order. An undo of an entry that is not there does nothing yet.
// The same id a second time is the same entry and is not in force again. Undos that name each other
// in a ring (no honest journal has one) take nothing back and are not in force.
std::vector<bool> in_force(const std::vector<Entry>& entries);

// `entries` in journal order. Settings and preparation go by place in the journal, not by `at_ms`:
// clocks of two devices may disagree.
Standing fold(const std::vector<Entry>& entries);

// The newest entry that an `undo` would take back: the last one that is in force and is not itself
// an undo. Nothing if there is none.
std::optional<Entry> last_in_force(const std::vector<Entry>& entries);

}  // namespace batten

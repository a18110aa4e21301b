// What is written down: one entry of the journal. Entries are never changed or removed; an undo is
// an entry of its own.
#pragma once

#include "core/journal/uuid.hpp"
#include "core/keyboard/key.hpp"
#include "core/regulation/catalogue/adjusters.hpp"
#include "core/regulation/catalogue/preparation.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <variant>

namespace batten {

// A value read on the piano.
struct ReadingTaken {
  Reading reading = Reading::string_height;
  std::optional<Key> note;  // none for readings of the piano or the room
  double value = 0;         // in the reading's unit (catalogue)
  double uncertainty = 0;   // one standard deviation, same unit, > 0
  std::string gauge;        // which instrument, may be empty
  std::string typed;        // what the hand typed, kept to the letter
  bool operator==(const ReadingTaken&) const = default;
};

// A screw turned, a paper added.
struct MoveMade {
  Adjuster adjuster = Adjuster::capstan;
  std::optional<Key> note;  // none at an adjuster of the piano (a pedal's), and only there
  double amount = 0;        // in the adjuster's unit; + as the catalogue's `positive` says
  std::string remark;
  bool operator==(const MoveMade&) const = default;
};

// A move knowingly left, so that it is not asked again.
struct MoveSkipped {
  Adjuster adjuster = Adjuster::capstan;
  std::optional<Key> note;  // none at a note's adjuster: every note
  std::string reason;       // never empty
  bool operator==(const MoveSkipped&) const = default;
};

struct PreparationNoted {
  PreparationItem item = PreparationItem::screws_tight;
  std::optional<Key> note;  // none: the whole piano
  PreparationState state = PreparationState::found;
  std::string reason;  // needed when waived
  bool operator==(const PreparationNoted&) const = default;
};

// A setting of the piano; names and grammar in settings.hpp.
struct SettingChosen {
  std::string name;
  std::string value;
  bool operator==(const SettingChosen&) const = default;
};

struct Remark {
  std::optional<Key> note;
  std::string text;
  bool operator==(const Remark&) const = default;
};

// Takes one earlier entry back. Undoing an undo brings the entry again.
struct Undo {
  Uuid entry;
  bool operator==(const Undo&) const = default;
};

using EntryContent = std::variant<ReadingTaken, MoveMade, PreparationNoted, SettingChosen, Remark,
                                  Undo, MoveSkipped>;

struct Entry {
  Uuid id;
  Uuid visit;
  std::int64_t at_ms = 0;  // Unix time, milliseconds, UTC
  std::string who;
  EntryContent content;
  bool operator==(const Entry&) const = default;
};

// A stay at a piano, hours or days long; the climate is read per visit.
struct Visit {
  Uuid id;
  std::int64_t begun_ms = 0;
  std::string title;  // "first visit", "before the May recital"
  bool operator==(const Visit&) const = default;
};

struct Piano {
  Uuid id;
  std::string name;  // what the technician calls it
  std::string place;
  int lowest_key = 1;
  int highest_key = 88;
  std::int64_t added_ms = 0;
  bool operator==(const Piano&) const = default;
};

}  // namespace batten

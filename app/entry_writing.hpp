// Entries whose identity was made by whoever entered them: sent again when an answer was lost, and
// written down once.
#pragma once

#include "app/desk.hpp"
#include "app/readings.hpp"
#include "core/journal/entry.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

namespace batten {

// As typed; what each may be is said at take_reading, record_move, skip_move, note_preparation,
// choose_setting, remark and undo.
struct WantedMove {
  std::string adjuster, note;
  std::variant<std::string, double> amount;  // with its direction; or signed, adjuster's unit
  std::string remark;
};
struct WantedSkip {
  std::string adjuster, note, reason;
};
struct WantedPreparation {
  std::string item, state, note, reason;
};
struct WantedSetting {
  std::string name, value;
};
struct WantedRemark {
  std::string note, text;
};
struct WantedUndo {
  Uuid entry;
};
struct WantedEntry {
  Uuid id;
  std::optional<std::int64_t> at_ms;  // when the hand made it; nothing: now
  std::variant<ReadingRequest, WantedMove, WantedSkip, WantedPreparation, WantedSetting,
               WantedRemark, WantedUndo>
      what;
};

struct WrittenEntries {
  std::vector<Entry> entries;  // all that were wanted, as they are on record, same order
  std::size_t already_there = 0;
  std::int64_t revision = 0;
};

struct NotWritten {
  enum class Why : std::uint8_t {
    refused,   // as the functions above refuse it
    conflict,  // an entry of that identity is there, with other content
    world,     // the disk, the file or another program; may be tried again
  } why = Why::refused;
  Problem problem;
  std::optional<Uuid> entry;  // which of them
};

// Checks each as if those before it were written already, and writes all or none of them in one
// durable step, in the current visit. An entry that is there with the same content is not checked
// again and counts as written, though the visit or the settings have changed since. `who` goes into
// each that is new. A profile must be one that comes with the program or be the one set: who sends
// entries shall not try out the names of files. Refused besides: more than 500 at once, a time more
// than a day ahead of the clock or before the year 2000.
tl::expected<WrittenEntries, NotWritten> write_entries(Desk& desk, const Piano& piano,
                                                       const std::string& who,
                                                       std::span<const WantedEntry> wanted);

}  // namespace batten

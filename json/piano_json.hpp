// A piano with its visits, settings and preparation, and its journal, as JSON.
#pragma once

#include "app/entries.hpp"
#include "app/piano_page.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace batten {

std::string to_json(const PianoPage& page);

// Those that came after `since` were there (0: all), in reading order, each with its place by
// arrival; `revision` is of all.
std::string journal_to_json(const std::vector<HistoryLine>& history, std::int64_t since);

// Entries just written, oldest first, with the journal's revision after them. `already_there` of
// them were sent before.
std::string kept_to_json(const std::vector<Entry>& entries, std::size_t already_there,
                         std::int64_t revision);
// {"problem", "entry"}: which of those sent it is about; null where it is about all.
std::string not_written_to_json(const Problem& problem, const std::optional<Uuid>& entry);
// The same in one line for those who listen: whose piano, from which device ("" : this machine).
std::string heard_to_json(const Piano& piano, const std::vector<Entry>& entries,
                          std::int64_t revision, const std::string& device);
// Something else than its journal's entries has changed.
std::string changed_to_json(const Piano& piano, std::int64_t revision);

}  // namespace batten

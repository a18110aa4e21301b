// The journal in words.
#pragma once

#include "app/entries.hpp"
#include "core/journal/entry.hpp"

#include <string>
#include <vector>

namespace batten::cli {

// "C4 hammer height 150.20 mm": what an entry says, one line.
std::string entry_text(const EntryContent& content);

// One line each with time, identity and what it says; taken-back ones say so.
std::string history_text(const std::vector<HistoryLine>& lines);

}  // namespace batten::cli

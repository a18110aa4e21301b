// JSON out. Lengths are millimetres, turns are turns, chances 0…1, times ISO 8601; a value that is
// not known is null. Keys carry their unit ("deviation_mm").
#pragma once

#include "app/entries.hpp"
#include "app/tables.hpp"
#include "core/journal/entry.hpp"
#include "core/outcome/outcome.hpp"
#include "records/store.hpp"

#include <string>
#include <vector>

namespace batten {

std::string to_json(const Problem& problem);
std::string to_json(const std::vector<PianoSummary>& pianos);
std::string to_json(const Piano& piano);
std::string to_json(const Visit& visit);
std::string to_json(const Entry& entry);
std::string to_json_line(const Entry& entry);  // without line breaks
std::string to_json(const std::vector<HistoryLine>& history);
std::string to_json(const std::vector<Entry>& entries);
std::string to_json(const ImportOutcome& outcome);
// The table itself, or where it was written.
std::string table_to_json(TableForm form, const std::string& table);
std::string table_file_to_json(TableForm form, const std::string& file);
std::string sheet_to_json(const std::string& file, int pages);

}  // namespace batten

// One entry as one row of the journal's table, and back.
#pragma once

#include "core/journal/entry.hpp"
#include "core/outcome/outcome.hpp"
#include "records/sqlite/statement.hpp"

#include <initializer_list>
#include <string_view>

namespace batten {

// The columns, in the order both functions below use: what an entry says, without its place.
inline constexpr std::string_view entry_columns =
    "id, at_ms, who, kind, subject, note, value, uncertainty, state, gauge, text, target";

// Refuses what could not be read back as it is or would mean nothing: an identity of nothing, a
// value that is not a finite number, an uncertainty not above 0, a waived item or a skip without
// a reason, a note's adjuster moved at no note or a pedal's at one, a
// setting without a name, a key no keyboard has, text that is not UTF-8.
Result<void> check_entry(const Entry& entry);

// Refuses a text that is not UTF-8.
Result<void> check_texts(std::initializer_list<std::string_view> texts);

// Binds to the places from `first` on. The entry must pass check_entry, and live until the
// statement has run.
void bind_entry(sqlite::Statement& statement, int first, const Entry& entry);

// From the columns from `first` on; `visit` is what the row refers to. Error: a kind or a catalogue
// code this version does not know.
Result<Entry> read_entry(const sqlite::Statement& statement, int first, const Uuid& visit);

// Throws StoreFailure, damaged, unless there are 16 bytes.
Uuid read_uuid(const sqlite::Statement& statement, int column);
sqlite::Value value_of(const Uuid& id);

}  // namespace batten

// What another store has of a piano, taken in.
#include "core/keyboard/compass.hpp"
#include "records/entry_rows.hpp"
#include "records/rows.hpp"
#include "records/store.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace batten {

using sqlite::Connection;
using sqlite::Statement;
using sqlite::Transaction;

namespace {

constexpr const char* nothing_changed = "Nothing was changed.";

// Of the piano of this identity, or of this name.
std::optional<Piano> find(Connection& connection, const char* column, const sqlite::Value& value) {
  Statement row =
      connection.prepare(fmt::format("SELECT {} FROM piano WHERE {} = ?", piano_columns, column));
  row.bind(1, value);
  if (!row.step()) return std::nullopt;
  return read_piano(row, 0);
}

Result<std::string> free_name(Connection& connection, const std::string& wanted, bool asked_for) {
  std::string name = wanted;
  for (int i = 2; find(connection, "name", std::string_view(name)); ++i) {
    if (asked_for)
      return problem(fmt::format("There is a piano named \"{}\" already.", wanted),
                     "Choose another name for this one.", nothing_changed);
    name = fmt::format("{} {}", wanted, i);
  }
  return name;
}

// The piano as it will be here. Error: it cannot be taken in.
Result<Piano> take_piano(Connection& connection, const Piano& from, std::string_view as,
                         bool& added) {
  if (from.id.is_nil()) return problem("A piano without an identity was refused.");
  if (auto texts = check_texts({from.name, from.place, as}); !texts)
    return tl::unexpected(texts.error());
  if (auto compass = make_compass(Key{from.lowest_key}, Key{from.highest_key}); !compass)
    return tl::unexpected(compass.error());
  if (auto there = find(connection, "id", value_of(from.id))) {
    if (there->lowest_key == from.lowest_key && there->highest_key == from.highest_key)
      return *there;
    return problem(fmt::format("Piano \"{}\" is here already, with other keys.", there->name),
                   "Look which of the two stores is right.", nothing_changed);
  }
  Piano piano = from;
  if (!as.empty()) piano.name = as;
  if (piano.name.empty()) return problem("A piano needs a name.", "Say what you call it.");
  auto name = free_name(connection, piano.name, !as.empty());
  if (!name) return tl::unexpected(name.error());
  piano.name = *name;
  insert_piano(connection, piano);
  added = true;
  return piano;
}

// True: added.
Result<bool> take_visit(Connection& connection, std::int64_t piano, const Visit& visit) {
  if (visit.id.is_nil()) return problem("A visit without an identity was refused.");
  if (auto texts = check_texts({visit.title}); !texts) return tl::unexpected(texts.error());
  Statement same = connection.prepare("SELECT id, begun_ms, title, piano FROM visit WHERE id = ?");
  same.bind_all(value_of(visit.id));
  if (!same.step()) {
    insert_visit(connection, piano, visit);
    return true;
  }
  if (read_visit(same, 0) == visit && same.integer(3) == piano) return false;
  return problem(
      fmt::format("Visit \"{}\" ({}) is in the store already, with other details.", visit.title,
                  to_text(visit.id)),
      "One of the two files was changed by something else than this program: look which.",
      nothing_changed);
}

// A stamp is a clock's word, or one more than the last for each entry since.
Result<void> check_stamps(std::span<const StampedEntry> entries) {
  std::int64_t latest = 1;
  for (const StampedEntry& e : entries) latest = std::max(latest, held_clock_ms(e.entry.at_ms));
  const std::int64_t most = latest + static_cast<std::int64_t>(entries.size());
  for (const StampedEntry& e : entries)
    if (e.stamp < 1 || e.stamp > most)
      return problem(fmt::format("Entry {} has a place in the order that no journal gives: {}.",
                                 to_text(e.entry.id), e.stamp),
                     "Have the file made again where it comes from.", nothing_changed);
  return {};
}

}  // namespace

Result<MergeOutcome> Store::merge(const WholeJournal& from, std::string_view as) {
  if (auto ok = check_stamps(from.entries); !ok) return tl::unexpected(ok.error());
  Transaction transaction(connection_);
  MergeOutcome outcome;
  auto piano = take_piano(connection_, from.piano, as, outcome.piano_added);
  if (!piano) return tl::unexpected(piano.error());
  outcome.piano = std::move(*piano);
  const Result<std::int64_t> number = number_of(connection_, outcome.piano.id);
  if (!number) return tl::unexpected(number.error());
  for (const Visit& visit : from.visits) {
    auto added = take_visit(connection_, *number, visit);
    if (!added) return tl::unexpected(added.error());
    ++(*added ? outcome.visits_added : outcome.visits_already_there);
  }
  Appending appending(connection_, *number);
  // In reading order whatever the order they come in, so that arrival tells the same story.
  std::vector<const StampedEntry*> in_order;
  in_order.reserve(from.entries.size());
  for (const StampedEntry& e : from.entries) in_order.push_back(&e);
  std::ranges::stable_sort(in_order,
                           [](const auto* a, const auto* b) { return read_before(*a, *b); });
  for (const StampedEntry* e : in_order)
    if (auto merged = appending.merge(*e); !merged) return tl::unexpected(merged.error());
  outcome.entries_added = appending.added();
  outcome.entries_already_there = appending.already_there();
  outcome.moved_back = appending.moved_back();
  // What was reckoned from another order is not to be trusted.
  if (outcome.moved_back > 0) connection_.run("DELETE FROM outlook WHERE piano = ?", *number);
  transaction.commit();
  return outcome;
}

}  // namespace batten

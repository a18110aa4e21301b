#include "records/rows.hpp"

#include "records/entry_rows.hpp"
#include "records/sqlite/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

namespace batten {

using sqlite::Connection;
using sqlite::Statement;

Piano read_piano(const Statement& row, int first) {
  return {read_uuid(row, first),
          std::string(row.text(first + 1)),
          std::string(row.text(first + 2)),
          static_cast<int>(row.integer(first + 3)),
          static_cast<int>(row.integer(first + 4)),
          row.integer(first + 5)};
}

Visit read_visit(const Statement& row, int first) {
  return {read_uuid(row, first), row.integer(first + 1), std::string(row.text(first + 2))};
}

Result<std::int64_t> number_of(Connection& connection, const Uuid& piano) {
  Statement statement = connection.prepare("SELECT number FROM piano WHERE id = ?");
  statement.bind_all(value_of(piano));
  if (statement.step()) return statement.integer(0);
  return problem(fmt::format("There is no piano {} in this store.", to_text(piano)),
                 "List the pianos to see which there are.");
}

void insert_piano(Connection& connection, const Piano& piano) {
  connection.run(
      "INSERT INTO piano (id, name, place, lowest_key, highest_key, added_ms) "
      "VALUES (?, ?, ?, ?, ?, ?)",
      value_of(piano.id), std::string_view(piano.name), std::string_view(piano.place),
      std::int64_t{piano.lowest_key}, std::int64_t{piano.highest_key}, piano.added_ms);
}

void insert_visit(Connection& connection, std::int64_t piano, const Visit& visit) {
  connection.run("INSERT INTO visit (id, piano, begun_ms, title) VALUES (?, ?, ?, ?)",
                 value_of(visit.id), piano, visit.begun_ms, std::string_view(visit.title));
}

std::optional<std::int64_t> VisitNumbers::find(const Uuid& visit) {
  const auto known = known_.find(visit);
  if (known != known_.end()) return known->second;
  statement_.bind_all(value_of(visit), piano_);
  std::optional<std::int64_t> number;
  if (statement_.step()) number = statement_.integer(0);
  statement_.reset();
  if (number) known_[visit] = *number;
  return number;
}

namespace {

std::string prefixed_columns() {
  std::string columns = "entry.";
  for (const char c : entry_columns) {
    columns += c;
    if (c == ' ') columns += "entry.";
  }
  return columns;
}

}  // namespace

Appending::Appending(Connection& connection, std::int64_t piano)
    : connection_(connection),
      piano_(piano),
      visits_(connection, piano),
      insert_(connection.prepare(fmt::format(
          "INSERT INTO entry (piano, seq, visit, stamp, {}) "
          "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING",
          entry_columns))) {
  Statement last = connection.prepare("SELECT coalesce(max(seq), 0) FROM entry WHERE piano = ?");
  last.bind_all(piano);
  if (last.step()) next_ = last.integer(0) + 1;
  Statement latest =
      connection.prepare("SELECT coalesce(max(stamp), 0) FROM entry WHERE piano = ?");
  latest.bind_all(piano);
  if (latest.step()) last_stamp_ = latest.integer(0);
}

Result<void> Appending::add(const Entry& entry) {
  return insert(entry, next_stamp(last_stamp_, entry.at_ms)).map([](const auto&) {});
}

Result<void> Appending::merge(const StampedEntry& stamped) {
  auto there = insert(stamped.entry, stamped.stamp);
  if (!there) return tl::unexpected(std::move(there.error()));
  if (*there && stamped.stamp < **there) {
    connection_.run("UPDATE entry SET stamp = ? WHERE id = ?", stamped.stamp,
                    value_of(stamped.entry.id));
    ++moved_back_;
  }
  return {};
}

Result<std::optional<std::int64_t>> Appending::insert(const Entry& entry, std::int64_t stamp) {
  if (Result<void> sound = check_entry(entry); !sound)
    return tl::unexpected(std::move(sound.error()));
  const std::optional<std::int64_t> visit = visits_.find(entry.visit);
  if (!visit) {
    return problem(fmt::format("There is no visit {} at this piano.", to_text(entry.visit)),
                   "Begin a visit first.", "Nothing was written.");
  }
  insert_.bind_all(piano_, next_, *visit, stamp);
  bind_entry(insert_, 5, entry);
  insert_.finish();
  if (connection_.changes() == 1) {
    ++next_;
    ++added_;
    last_stamp_ = std::max(last_stamp_, stamp);
    return std::optional<std::int64_t>{};
  }
  ++already_there_;
  return compare(entry).map([](std::int64_t there) { return std::optional(there); });
}

Result<std::int64_t> Appending::compare(const Entry& entry) {
  if (!same_)
    same_ =
        connection_.prepare(fmt::format("SELECT entry.piano, visit.id, entry.stamp, {} FROM entry "
                                        "JOIN visit ON visit.number = entry.visit "
                                        "WHERE entry.id = ?",
                                        prefixed_columns()));
  Statement& statement = *same_;
  statement.reset();
  statement.bind_all(value_of(entry.id));
  if (!statement.step()) sqlite::fail(FailureKind::damaged, "an entry is not in its table");
  const Result<Entry> there = read_entry(statement, 3, read_uuid(statement, 1));
  const bool here = statement.integer(0) == piano_;
  const std::int64_t stamp = statement.integer(2);
  statement.reset();
  if (there && here && *there == entry) return stamp;
  return problem(
      fmt::format("Entry {} is in the store already, with other content.", to_text(entry.id)),
      "An entry is never changed: undo it and enter the right one.", "Nothing was written.");
}

}  // namespace batten

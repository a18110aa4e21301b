// The journal: to its end, and read.
#include "records/entry_rows.hpp"
#include "records/rows.hpp"
#include "records/sqlite/errors.hpp"
#include "records/store.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>
#include <tuple>
#include <utility>

namespace batten {

using sqlite::ReadTransaction;
using sqlite::Statement;
using sqlite::Transaction;

namespace {

constexpr std::int64_t all_of_it = std::numeric_limits<std::int64_t>::max();

bool read_before(const JournalLine& a, const JournalLine& b) {
  return std::tie(a.stamp, a.entry.id) < std::tie(b.stamp, b.entry.id);
}

// In reading order, those up to that arrival.
Result<std::vector<JournalLine>> lines_up_to(sqlite::Connection& connection, const Uuid& piano,
                                             std::int64_t arrival) {
  // A visit and its entries that another program adds meanwhile are seen together or not.
  const ReadTransaction one_view(connection);
  const Result<std::int64_t> number = number_of(connection, piano);
  if (!number) return tl::unexpected(number.error());
  std::map<std::int64_t, Uuid> visit_ids;
  Statement visits = connection.prepare("SELECT number, id FROM visit WHERE piano = ?");
  visits.bind_all(*number);
  while (visits.step()) visit_ids[visits.integer(0)] = read_uuid(visits, 1);

  // By arrival, as the rows lie in the file; nearly the reading order.
  Statement rows = connection.prepare(
      fmt::format("SELECT visit, seq, stamp, {} FROM entry WHERE piano = ? AND seq <= ? "
                  "ORDER BY seq",
                  entry_columns));
  rows.bind_all(*number, arrival);
  std::vector<JournalLine> lines;
  while (rows.step()) {
    const auto visit = visit_ids.find(rows.integer(0));
    if (visit == visit_ids.end()) sqlite::fail(FailureKind::damaged, "an entry without a visit");
    Result<Entry> entry = read_entry(rows, 3, visit->second);
    if (!entry) return tl::unexpected(std::move(entry.error()));
    lines.push_back({std::move(*entry), rows.integer(2), rows.integer(1)});
  }
  if (!std::ranges::is_sorted(lines, read_before)) std::ranges::sort(lines, read_before);
  return lines;
}

Result<std::vector<Entry>> entries_of(Result<std::vector<JournalLine>> lines) {
  if (!lines) return tl::unexpected(std::move(lines.error()));
  std::vector<Entry> entries;
  entries.reserve(lines->size());
  for (JournalLine& line : *lines) entries.push_back(std::move(line.entry));
  return entries;
}

}  // namespace

Result<AppendOutcome> Store::append(const Uuid& piano, std::span<const Entry> entries) {
  Transaction transaction(connection_);
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  Appending appending(connection_, *number);
  for (const Entry& entry : entries) {
    if (Result<void> added = appending.add(entry); !added) return tl::unexpected(added.error());
  }
  transaction.commit();
  return AppendOutcome{appending.added(), appending.already_there()};
}

Result<std::vector<Entry>> Store::entries(const Uuid& piano) {
  return entries_of(lines_up_to(connection_, piano, all_of_it));
}

Result<std::vector<Entry>> Store::entries_at(const Uuid& piano, std::int64_t revision) {
  return entries_of(lines_up_to(connection_, piano, revision));
}

Result<std::vector<JournalLine>> Store::journal(const Uuid& piano) {
  return lines_up_to(connection_, piano, all_of_it);
}

Result<WholeJournal> Store::whole(const Uuid& piano) {
  const ReadTransaction one_view(connection_);
  WholeJournal whole;
  Statement row =
      connection_.prepare(fmt::format("SELECT {} FROM piano WHERE id = ?", piano_columns));
  row.bind_all(value_of(piano));
  if (row.step()) whole.piano = read_piano(row, 0);
  auto visits = this->visits(piano);
  if (!visits) return tl::unexpected(std::move(visits.error()));
  whole.visits = std::move(*visits);
  auto lines = journal(piano);
  if (!lines) return tl::unexpected(std::move(lines.error()));
  whole.entries.reserve(lines->size());
  for (JournalLine& line : *lines) whole.entries.push_back({std::move(line.entry), line.stamp});
  return whole;
}

}  // namespace batten

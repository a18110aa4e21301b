#include "records/store.hpp"

#include "core/keyboard/compass.hpp"
#include "records/entry_rows.hpp"
#include "records/migrations.hpp"
#include "records/opening.hpp"
#include "records/sqlite/errors.hpp"

#include <fmt/format.h>

#include <map>
#include <utility>

namespace batten {
namespace {

using sqlite::Connection;
using sqlite::Statement;
using sqlite::Transaction;

constexpr std::string_view piano_columns =
    "piano.id, piano.name, piano.place, piano.lowest_key, piano.highest_key, piano.added_ms";

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

// A piano's number in this file.
Result<std::int64_t> number_of(Connection& connection, const Uuid& piano) {
  Statement statement = connection.prepare("SELECT number FROM piano WHERE id = ?");
  statement.bind_all(value_of(piano));
  if (statement.step()) return statement.integer(0);
  return problem(fmt::format("There is no piano {} in this store.", to_text(piano)),
                 "List the pianos to see which there are.");
}

// Quoted, with commas between; the first eight.
std::string name_list(const std::vector<std::string>& names) {
  std::string list;
  for (std::size_t i = 0; i < names.size() && i < 8; ++i) {
    list += fmt::format("{}\"{}\"", i == 0 ? "" : ", ", names[i]);
  }
  if (names.size() > 8) list += fmt::format(" and {} more", names.size() - 8);
  return list;
}

// A LIKE pattern that takes every character of the text for itself.
std::string begins_with(std::string_view text) {
  std::string pattern;
  for (const char c : text) {
    if (c == '%' || c == '_' || c == '\\') pattern += '\\';
    pattern += c;
  }
  return pattern + '%';
}

// The numbers of one piano's visits, found once per call.
class VisitNumbers {
 public:
  VisitNumbers(Connection& connection, std::int64_t piano)
      : statement_(connection.prepare("SELECT number FROM visit WHERE id = ? AND piano = ?")),
        piano_(piano) {}

  std::optional<std::int64_t> find(const Uuid& visit) {
    const auto known = known_.find(visit);
    if (known != known_.end()) return known->second;
    statement_.bind_all(value_of(visit), piano_);
    std::optional<std::int64_t> number;
    if (statement_.step()) number = statement_.integer(0);
    statement_.reset();
    if (number) known_[visit] = *number;
    return number;
  }

 private:
  Statement statement_;
  std::int64_t piano_;
  std::map<Uuid, std::int64_t> known_;
};

// One call of append, inside its transaction.
class Appending {
 public:
  Appending(Connection& connection, std::int64_t piano)
      : connection_(connection),
        piano_(piano),
        visits_(connection, piano),
        insert_(connection.prepare(fmt::format(
            "INSERT INTO entry (piano, seq, visit, {}) "
            "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO NOTHING",
            entry_columns))) {
    Statement last = connection.prepare("SELECT coalesce(max(seq), 0) FROM entry WHERE piano = ?");
    last.bind_all(piano);
    if (last.step()) next_ = last.integer(0) + 1;
  }

  Result<void> add(const Entry& entry) {
    if (Result<void> sound = check_entry(entry); !sound) return sound;
    const std::optional<std::int64_t> visit = visits_.find(entry.visit);
    if (!visit) {
      return problem(fmt::format("There is no visit {} at this piano.", to_text(entry.visit)),
                     "Begin a visit first.", "Nothing was written.");
    }
    insert_.bind_all(piano_, next_, *visit);
    bind_entry(insert_, 4, entry);
    insert_.finish();
    if (connection_.changes() == 1) {
      ++next_;
      ++outcome_.added;
      return {};
    }
    ++outcome_.already_there;
    return compare(entry);
  }

  AppendOutcome outcome() const { return outcome_; }

 private:
  // With the entry of the same identity that is there.
  Result<void> compare(const Entry& entry) {
    Statement statement = connection_.prepare(
        fmt::format("SELECT entry.piano, visit.id, {} FROM entry "
                    "JOIN visit ON visit.number = entry.visit WHERE entry.id = ?",
                    prefixed_columns()));
    statement.bind_all(value_of(entry.id));
    if (!statement.step()) sqlite::fail(FailureKind::damaged, "an entry is not in its table");
    const Result<Entry> there = read_entry(statement, 2, read_uuid(statement, 1));
    if (there && statement.integer(0) == piano_ && *there == entry) return {};
    return problem(
        fmt::format("Entry {} is in the store already, with other content.", to_text(entry.id)),
        "An entry is never changed: undo it and enter the right one.", "Nothing was written.");
  }

  static std::string prefixed_columns() {
    std::string columns = "entry.";
    for (const char c : entry_columns) {
      columns += c;
      if (c == ' ') columns += "entry.";
    }
    return columns;
  }

  Connection& connection_;
  std::int64_t piano_;
  VisitNumbers visits_;
  Statement insert_;
  std::int64_t next_ = 1;
  AppendOutcome outcome_;
};

}  // namespace

Store Store::open(const std::filesystem::path& file, const OpenOptions& options) {
  return Store(open_store(file, options, all_migrations()));
}

Result<void> Store::add_piano(const Piano& piano) {
  if (piano.id.is_nil()) return problem("A piano without an identity was refused.");
  if (piano.name.empty()) return problem("A piano needs a name.", "Say what you call it.");
  if (Result<void> texts = check_texts({piano.name, piano.place}); !texts) return texts;
  if (const auto compass = make_compass(Key{piano.lowest_key}, Key{piano.highest_key}); !compass) {
    return tl::unexpected(compass.error());
  }

  Transaction transaction(connection_);
  Statement same = connection_.prepare(
      fmt::format("SELECT {} FROM piano WHERE id = ?1 OR name = ?2", piano_columns));
  same.bind_all(value_of(piano.id), std::string_view(piano.name));
  while (same.step()) {
    const Piano there = read_piano(same, 0);
    if (there == piano) return {};
    if (there.id == piano.id) {
      return problem(fmt::format("Piano {} is in the store already, as \"{}\", with other details.",
                                 to_text(piano.id), there.name),
                     "", "Nothing was changed.");
    }
    return problem(fmt::format("There is a piano named \"{}\" already.", there.name),
                   "Choose another name for this one.", "Nothing was changed.");
  }
  connection_.run(
      "INSERT INTO piano (id, name, place, lowest_key, highest_key, added_ms) "
      "VALUES (?, ?, ?, ?, ?, ?)",
      value_of(piano.id), std::string_view(piano.name), std::string_view(piano.place),
      std::int64_t{piano.lowest_key}, std::int64_t{piano.highest_key}, piano.added_ms);
  transaction.commit();
  return {};
}

std::vector<PianoSummary> Store::pianos() {
  Statement rows = connection_.prepare(
      fmt::format("SELECT {}, (SELECT count(*) FROM visit WHERE visit.piano = piano.number), "
                  "coalesce((SELECT max(seq) FROM entry WHERE entry.piano = piano.number), 0), "
                  "visit.id, visit.begun_ms, visit.title FROM piano "
                  "LEFT JOIN visit ON visit.number = (SELECT number FROM visit AS latest "
                  "WHERE latest.piano = piano.number ORDER BY begun_ms DESC, number DESC LIMIT 1) "
                  "ORDER BY piano.name",
                  piano_columns));
  std::vector<PianoSummary> all;
  while (rows.step()) {
    PianoSummary summary{
        read_piano(rows, 0), static_cast<int>(rows.integer(6)), rows.integer(7), {}};
    if (!rows.is_null(8)) summary.latest_visit = read_visit(rows, 8);
    all.push_back(std::move(summary));
  }
  return all;
}

Result<Piano> Store::find_piano(std::string_view text) {
  if (const auto id = parse_uuid(text)) {
    Statement by_id =
        connection_.prepare(fmt::format("SELECT {} FROM piano WHERE id = ?", piano_columns));
    by_id.bind_all(value_of(*id));
    if (by_id.step()) return read_piano(by_id, 0);
  }
  Statement by_name = connection_.prepare(fmt::format(
      "SELECT {}, name = ?1 FROM piano WHERE name = ?1 OR name LIKE ?2 ESCAPE '\\' ORDER BY name",
      piano_columns));
  const std::string pattern = begins_with(text);
  by_name.bind_all(text, std::string_view(pattern));
  std::vector<Piano> fitting;
  std::vector<std::string> names;
  while (by_name.step()) {
    Piano piano = read_piano(by_name, 0);
    if (by_name.integer(6) == 1) return piano;
    names.push_back(piano.name);
    fitting.push_back(std::move(piano));
  }
  if (fitting.size() == 1) return fitting.front();
  if (fitting.size() > 1) {
    return problem(fmt::format("Several pianos begin with \"{}\": {}.", text, name_list(names)),
                   "Type more of the name.");
  }
  names = connection_.lines("SELECT name FROM piano ORDER BY name");
  if (names.empty()) return problem("There is no piano in this store yet.", "Add one first.");
  return problem(fmt::format("No piano is named \"{}\".", text),
                 fmt::format("There are: {}.", name_list(names)));
}

Result<void> Store::add_visit(const Uuid& piano, const Visit& visit) {
  if (visit.id.is_nil()) return problem("A visit without an identity was refused.");
  if (Result<void> texts = check_texts({visit.title}); !texts) return texts;
  Transaction transaction(connection_);
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  Statement same = connection_.prepare("SELECT id, begun_ms, title, piano FROM visit WHERE id = ?");
  same.bind_all(value_of(visit.id));
  if (same.step()) {
    if (read_visit(same, 0) == visit && same.integer(3) == *number) return {};
    return problem(
        fmt::format("Visit {} is in the store already, with other details.", to_text(visit.id)), "",
        "Nothing was changed.");
  }
  connection_.run("INSERT INTO visit (id, piano, begun_ms, title) VALUES (?, ?, ?, ?)",
                  value_of(visit.id), *number, visit.begun_ms, std::string_view(visit.title));
  transaction.commit();
  return {};
}

Result<std::vector<Visit>> Store::visits(const Uuid& piano) {
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  Statement rows = connection_.prepare(
      "SELECT id, begun_ms, title FROM visit WHERE piano = ? ORDER BY begun_ms, number");
  rows.bind_all(*number);
  std::vector<Visit> all;
  while (rows.step()) all.push_back(read_visit(rows, 0));
  return all;
}

Result<std::optional<Visit>> Store::latest_visit(const Uuid& piano) {
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  Statement row = connection_.prepare(
      "SELECT id, begun_ms, title FROM visit WHERE piano = ? "
      "ORDER BY begun_ms DESC, number DESC LIMIT 1");
  row.bind_all(*number);
  std::optional<Visit> latest;
  if (row.step()) latest = read_visit(row, 0);
  return latest;
}

Result<AppendOutcome> Store::append(const Uuid& piano, std::span<const Entry> entries) {
  Transaction transaction(connection_);
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  Appending appending(connection_, *number);
  for (const Entry& entry : entries) {
    if (Result<void> added = appending.add(entry); !added) return tl::unexpected(added.error());
  }
  transaction.commit();
  return appending.outcome();
}

Result<std::vector<Entry>> Store::entries(const Uuid& piano) {
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  std::map<std::int64_t, Uuid> visit_ids;
  Statement visits = connection_.prepare("SELECT number, id FROM visit WHERE piano = ?");
  visits.bind_all(*number);
  while (visits.step()) visit_ids[visits.integer(0)] = read_uuid(visits, 1);

  Statement rows = connection_.prepare(
      fmt::format("SELECT visit, {} FROM entry WHERE piano = ? ORDER BY seq", entry_columns));
  rows.bind_all(*number);
  std::vector<Entry> journal;
  while (rows.step()) {
    const auto visit = visit_ids.find(rows.integer(0));
    if (visit == visit_ids.end()) sqlite::fail(FailureKind::damaged, "an entry without a visit");
    Result<Entry> entry = read_entry(rows, 1, visit->second);
    if (!entry) return tl::unexpected(std::move(entry.error()));
    journal.push_back(std::move(*entry));
  }
  return journal;
}

Result<std::int64_t> Store::revision(const Uuid& piano) {
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  // Places begin at 1 and have no gaps.
  Statement last = connection_.prepare("SELECT coalesce(max(seq), 0) FROM entry WHERE piano = ?");
  last.bind_all(*number);
  return last.step() ? last.integer(0) : 0;
}

std::vector<std::string> Store::check() {
  std::vector<std::string> broken = connection_.lines("PRAGMA integrity_check");
  if (broken.size() == 1 && broken.front() == "ok") broken.clear();
  for (std::string& row : connection_.lines("PRAGMA foreign_key_check")) {
    broken.push_back("a reference to nothing: " + row);
  }
  return broken;
}

}  // namespace batten

#include "records/store.hpp"

#include "core/keyboard/compass.hpp"
#include "records/entry_rows.hpp"
#include "records/migrations.hpp"
#include "records/opening.hpp"
#include "records/rows.hpp"

#include <fmt/format.h>

#include <utility>

namespace batten {
namespace {

using sqlite::Statement;
using sqlite::Transaction;

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

}  // namespace

Store Store::open(const std::filesystem::path& file, const OpenOptions& options) {
  return {file, open_store(file, options, all_migrations())};
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
  insert_piano(connection_, piano);
  transaction.commit();
  return {};
}

std::vector<PianoSummary> Store::pianos() {
  Statement rows = connection_.prepare(
      fmt::format("SELECT {}, (SELECT count(*) FROM visit WHERE visit.piano = piano.number), "
                  "coalesce((SELECT max(seq) FROM entry WHERE entry.piano = piano.number), 0), "
                  "visit.id, visit.begun_ms, visit.title FROM piano "
                  "LEFT JOIN visit ON visit.number = (SELECT number FROM visit AS latest "
                  "WHERE latest.piano = piano.number ORDER BY begun_ms DESC, id DESC LIMIT 1) "
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
  insert_visit(connection_, *number, visit);
  transaction.commit();
  return {};
}

Result<std::vector<Visit>> Store::visits(const Uuid& piano) {
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  Statement rows = connection_.prepare(
      "SELECT id, begun_ms, title FROM visit WHERE piano = ? ORDER BY begun_ms, id");
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
      "ORDER BY begun_ms DESC, id DESC LIMIT 1");
  row.bind_all(*number);
  std::optional<Visit> latest;
  if (row.step()) latest = read_visit(row, 0);
  return latest;
}

Result<std::int64_t> Store::revision(const Uuid& piano) {
  const Result<std::int64_t> number = number_of(connection_, piano);
  if (!number) return tl::unexpected(number.error());
  // Places begin at 1 and have no gaps.
  Statement last = connection_.prepare("SELECT coalesce(max(seq), 0) FROM entry WHERE piano = ?");
  last.bind_all(*number);
  return last.step() ? last.integer(0) : 0;
}

void Store::copy_to(const std::filesystem::path& file) {
  sqlite::Connection copy(file.string(), SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, "");
  copy.run("PRAGMA synchronous = FULL");
  connection_.copy_into(copy);
  // So that it is one file, also once it has been read.
  copy.lines("PRAGMA journal_mode = DELETE");
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

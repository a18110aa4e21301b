// Pianos and visits as rows, and one call of adding to a journal. Internal to records.
#pragma once

#include "core/journal/order.hpp"
#include "core/outcome/outcome.hpp"
#include "records/sqlite/connection.hpp"

#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string_view>

namespace batten {

inline constexpr std::string_view piano_columns =
    "piano.id, piano.name, piano.place, piano.lowest_key, piano.highest_key, piano.added_ms";

// From the columns from `first` on.
Piano read_piano(const sqlite::Statement& row, int first);
// id, begun_ms, title.
Visit read_visit(const sqlite::Statement& row, int first);

// A piano's number in this file. Error: unknown piano.
Result<std::int64_t> number_of(sqlite::Connection& connection, const Uuid& piano);

// Within the caller's transaction.
void insert_piano(sqlite::Connection& connection, const Piano& piano);
void insert_visit(sqlite::Connection& connection, std::int64_t piano, const Visit& visit);

// The numbers of one piano's visits, found once per call.
class VisitNumbers {
 public:
  VisitNumbers(sqlite::Connection& connection, std::int64_t piano)
      : statement_(connection.prepare("SELECT number FROM visit WHERE id = ? AND piano = ?")),
        piano_(piano) {}

  std::optional<std::int64_t> find(const Uuid& visit);

 private:
  sqlite::Statement statement_;
  std::int64_t piano_;
  std::map<Uuid, std::int64_t> known_;
};

// One call that adds to the end of a piano's journal, inside the caller's transaction.
class Appending {
 public:
  Appending(sqlite::Connection& connection, std::int64_t piano);

  // Entered now: stamped as next_stamp says. Error: as Store::append.
  Result<void> add(const Entry& entry);
  // Entered elsewhere, with the stamp it got there. Where it is here already with a later stamp
  // the earlier one holds from now on.
  Result<void> merge(const StampedEntry& stamped);

  std::size_t added() const { return added_; }
  std::size_t already_there() const { return already_there_; }
  std::size_t moved_back() const { return moved_back_; }

 private:
  // The stamp it has here if it was here already.
  Result<std::optional<std::int64_t>> insert(const Entry& entry, std::int64_t stamp);
  // The stamp of the entry of the same identity that is there. Error: other content.
  Result<std::int64_t> compare(const Entry& entry);

  sqlite::Connection& connection_;
  std::int64_t piano_;
  VisitNumbers visits_;
  sqlite::Statement insert_;
  std::optional<sqlite::Statement> same_;  // prepared when it is first needed
  std::int64_t next_ = 1;                  // place
  std::int64_t last_stamp_ = 0;            // the highest there is
  std::size_t added_ = 0, already_there_ = 0, moved_back_ = 0;
};

}  // namespace batten

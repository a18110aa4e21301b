// The store: pianos, visits and their journals in one file. The only door to SQL.
//
// What is acknowledged is kept: when a function that writes has returned, what it wrote is on the
// disk (write-ahead log, synced) and survives the end of the process and a power cut. A function
// that fails keeps nothing of its call. Expected failures come back as values; when the disk, the
// file or another program is the cause, StoreFailure is thrown (records/failure.hpp).
//
// Several stores, in one program or in several, may have the same file open; a second writer waits
// for the first. One Store belongs to one thread at a time.
#pragma once

#include "core/journal/entry.hpp"
#include "core/outcome/outcome.hpp"
#include "records/devices.hpp"
#include "records/failure.hpp"
#include "records/open_options.hpp"
#include "records/sqlite/connection.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct PianoSummary {
  Piano piano;
  int visit_count = 0;
  std::int64_t entry_count = 0;  // of the journal, undone ones and undos included
  std::optional<Visit> latest_visit;
};

struct AppendOutcome {
  std::size_t added = 0;
  std::size_t already_there = 0;  // same identity, same content: sent twice
};

class Store {
 public:
  // Opens or makes a store, and brings an older one to this version after copying it to a neighbour
  // "<file>.before-v<version>". Throws StoreFailure: missing, newer_version, not_a_store, damaged,
  // read_only, busy, disk_full, migration_failed; the folder is then as it was.
  static Store open(const std::filesystem::path& file, const OpenOptions& options = {});

  // Error: another piano of that name (A…Z and a…z taken as equal), an empty name, an impossible
  // compass, a text not UTF-8, the same identity with other content. The same piano again is
  // accepted and not doubled.
  Result<void> add_piano(const Piano& piano);
  // By name.
  std::vector<PianoSummary> pianos();
  // By identity, by name, or by the beginning of a name if only one piano's name begins so; A…Z and
  // a…z taken as equal. The error lists the names that fit, or, when none does, those there are.
  Result<Piano> find_piano(std::string_view text);

  // Error: unknown piano, a text not UTF-8, the same identity with other content. The same visit
  // again is accepted and not doubled.
  Result<void> add_visit(const Uuid& piano, const Visit& visit);
  // Oldest first. Error: unknown piano.
  Result<std::vector<Visit>> visits(const Uuid& piano);
  // The one begun last, nothing if there is none. Error: unknown piano.
  Result<std::optional<Visit>> latest_visit(const Uuid& piano);

  // Adds to the end of the piano's journal, all of them or none, in one durable step. An entry
  // whose identity is there already with equal content is counted and not doubled, so that a call
  // whose answer was lost may be repeated. Error: unknown piano, a visit not of this piano, the
  // same identity with other content, an entry that check_entry refuses.
  Result<AppendOutcome> append(const Uuid& piano, std::span<const Entry> entries);
  // The journal, oldest first. Error: unknown piano, an entry only a later version understands.
  Result<std::vector<Entry>> entries(const Uuid& piano);

  // How many entries the piano's journal has: its revision. Error: unknown piano.
  Result<std::int64_t> revision(const Uuid& piano);

  // As added: where a device that may come in has the name already, a number is put behind it.
  // Error: no identity, no name, a text not UTF-8.
  Result<Device> add_device(Device device);
  // In the order they were paired, revoked ones too.
  std::vector<Device> devices();
  // Later than before, or it changes nothing. An unknown device is none of its business.
  void touch_device(const Uuid& id, std::int64_t seen_ms);
  // As it is now; one revoked before keeps its time. Error: unknown device.
  Result<Device> revoke_device(const Uuid& id, std::int64_t now_ms);

  // Another number than before when someone else – another program, another Store – has written
  // (sqlite.org/pragma.html#pragma_data_version).
  std::int64_t data_version();

  // Reads the whole file and says, in SQLite's words, what is broken; nothing when it is sound.
  // Seconds for a large store. Damage inside a single number goes unseen.
  std::vector<std::string> check();

 private:
  explicit Store(sqlite::Connection connection) : connection_(std::move(connection)) {}

  sqlite::Connection connection_;
};

}  // namespace batten

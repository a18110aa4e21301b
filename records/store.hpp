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
#include "core/journal/order.hpp"
#include "core/outcome/outcome.hpp"
#include "records/devices.hpp"
#include "records/failure.hpp"
#include "records/open_options.hpp"
#include "records/shop.hpp"
#include "records/sqlite/connection.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <map>
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

// An entry with its places: in reading (stamp) and by arrival in this file.
struct JournalLine {
  Entry entry;
  std::int64_t stamp = 0;
  std::int64_t arrival = 0;  // 1, 2, 3 … without gaps; the last is the revision
  bool operator==(const JournalLine&) const = default;
};

struct MergeOutcome {
  Piano piano;  // as it is here now
  bool piano_added = false;
  std::size_t visits_added = 0, visits_already_there = 0;
  std::size_t entries_added = 0, entries_already_there = 0;
  // Of those already there: read earlier from now on, because the other store had them earlier.
  std::size_t moved_back = 0;
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
  // The journal in reading order (core/journal/order.hpp): as entered here, and with what others
  // entered meanwhile put between. Error: unknown piano, an entry only a later version understands.
  Result<std::vector<Entry>> entries(const Uuid& piano);
  // As it was when it had `revision` entries: those that had arrived by then.
  Result<std::vector<Entry>> entries_at(const Uuid& piano, std::int64_t revision);
  // Likewise in reading order, with the places.
  Result<std::vector<JournalLine>> journal(const Uuid& piano);

  // All that is on record of a piano, as one moment saw it.
  Result<WholeJournal> whole(const Uuid& piano);
  // Takes in what another store has of a piano, all of it or nothing, in one durable step. Whatever
  // the order and however often stores take from each other, those that have taken the same hold
  // the same visits, entries and order. What the piano is called and where it stands stays as it is
  // here. A piano not here yet gets its name, or `as` where given, or, where another piano has the
  // name, the name with a number behind it. Error: `as` is taken, another compass, a visit or an
  // entry of the same identity with other content or of another piano, what add_piano, add_visit
  // and append refuse, a stamp that no honest journal has (more than the latest clock and one for
  // each entry).
  Result<MergeOutcome> merge(const WholeJournal& from, std::string_view as = {});

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

  // What holds for the workshop, by name. Names and grammar are the application's.
  std::map<std::string, std::string> shop();
  // Nothing: as if it had never been set. Error: no name, a text not UTF-8.
  Result<void> set_shop(const std::string& name, const std::optional<std::string>& value);
  std::optional<Logo> logo();
  // Nothing: none from now on. Error: another type than PNG and JPEG, no bytes, more than 1 MiB.
  Result<void> set_logo(const std::optional<Logo>& logo);

  // What was reckoned lately of each piano; may be gone at any time.
  std::vector<KeptOutlook> kept_outlooks();
  // All in one step, each in the place of what was kept of its piano. Unknown pianos are left out.
  void keep_outlooks(std::span<const KeptOutlook> outlooks);

  // Where it is, as it was opened.
  const std::filesystem::path& file() const { return file_; }
  // The whole store, as its last commit left it, into a new file without a log beside it, synced.
  // Throws StoreFailure: disk_full, read_only, io.
  void copy_to(const std::filesystem::path& file);

  // Another number than before when someone else – another program, another Store – has written
  // (sqlite.org/pragma.html#pragma_data_version).
  std::int64_t data_version();

  // Reads the whole file and says, in SQLite's words, what is broken; nothing when it is sound.
  // Seconds for a large store. Damage inside a single number goes unseen.
  std::vector<std::string> check();

 private:
  Store(std::filesystem::path file, sqlite::Connection connection)
      : file_(std::move(file)), connection_(std::move(connection)) {}

  std::filesystem::path file_;
  sqlite::Connection connection_;
};

}  // namespace batten

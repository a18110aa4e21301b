// Technicians who work at one piano, each with a store and a clock of their own, and give each
// other files now and then. Beside each store what it must hold, reckoned as plainly as it can be.
#pragma once

#include "core/journal/order.hpp"
#include "records/store.hpp"

#include <cstdint>
#include <map>
#include <random>
#include <set>
#include <string>
#include <vector>

namespace batten::tests {

// What a store holds of the piano, by definition: every entry once, with its earliest stamp.
struct PlainStore {
  std::map<Uuid, std::pair<std::int64_t, Entry>> entries;
  std::map<Uuid, Visit> visits;
  bool has_piano = false;

  void append(const Entry& entry);
  void merge(const PlainStore& other);
  // By stamp, then by identity.
  std::vector<Entry> in_order() const;
};

class History {
 public:
  // `stores` are open and may hold other pianos; the piano is one they do not know yet.
  History(std::vector<Store>& stores, std::uint32_t seed);

  // Appends, undoes, leaves, begins visits, gives and takes files, in any order, again and again.
  void run(int steps);
  // Everyone gives a file, and everyone takes every file, some twice, each in an order of their
  // own.
  void join();

  const Piano& piano() const { return piano_; }
  const std::vector<PlainStore>& plain() const { return plain_; }
  // Everything acknowledged anywhere.
  const std::map<Uuid, Entry>& acknowledged() const { return acknowledged_; }
  // Pairs: the second was entered where the first was known.
  const std::vector<std::pair<Uuid, Uuid>>& known_before() const { return known_before_; }
  // Sent to more than one store, and so placed twice.
  const std::set<Uuid>& sent_twice() const { return sent_twice_; }
  int files_taken() const { return files_taken_; }

 private:
  std::size_t any(std::size_t count) { return count == 0 ? 0 : random_() % count; }
  Uuid new_id(std::uint8_t family);
  EntryContent any_content(std::size_t store);
  void enter(std::size_t store);
  void begin_visit(std::size_t store);
  void send_again(std::size_t store);
  void give(std::size_t store);
  void take(std::size_t store, std::size_t file);

  std::vector<Store>& stores_;
  std::mt19937 random_;
  std::uint32_t seed_, count_ = 0;
  Piano piano_;
  std::vector<PlainStore> plain_;
  std::vector<std::int64_t> clocks_;
  struct File {
    std::string text;
    PlainStore holds;
  };
  std::vector<File> files_;
  std::map<Uuid, Entry> acknowledged_;
  std::vector<std::pair<Uuid, Uuid>> known_before_;
  std::set<Uuid> sent_twice_;
  int files_taken_ = 0;
};

}  // namespace batten::tests

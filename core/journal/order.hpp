// The order a journal is read in: the same in every store that has the same entries, whatever order
// they arrived in.
#pragma once

#include "core/journal/entry.hpp"

#include <cstdint>
#include <tuple>
#include <vector>

namespace batten {

// The end of the year 9999, Unix time, milliseconds, UTC: a clock that says more is broken.
inline constexpr std::int64_t latest_clock_ms = 253'402'300'799'999;
// What every JSON reader keeps exactly, 2^53 − 1 (RFC 8259, section 6).
inline constexpr std::int64_t latest_stamp = 9'007'199'254'740'991;

// What a clock's word counts for: held between 1 and latest_clock_ms.
std::int64_t held_clock_ms(std::int64_t at_ms);

// The stamp of an entry made at `at_ms` where `last` is the highest stamp there is, 0 for none: its
// time, or one more than `last`, whichever is later. So an entry is read after all that was known
// where it was entered, whatever the clocks say (L. Lamport, CACM 21, 1978, rule IR2).
std::int64_t next_stamp(std::int64_t last, std::int64_t at_ms);

struct StampedEntry {
  Entry entry;
  std::int64_t stamp = 0;  // 1…latest_stamp
  bool operator==(const StampedEntry&) const = default;
};

// By stamp; two entered in the same moment at different places by identity.
inline bool read_before(const StampedEntry& a, const StampedEntry& b) {
  return std::tie(a.stamp, a.entry.id) < std::tie(b.stamp, b.entry.id);
}

// All that is on record of a piano.
struct WholeJournal {
  Piano piano;
  std::vector<Visit> visits;          // by the time they began, then by identity
  std::vector<StampedEntry> entries;  // in reading order
  bool operator==(const WholeJournal&) const = default;
};

}  // namespace batten

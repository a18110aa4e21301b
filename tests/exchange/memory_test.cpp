// The bound on memory stated at TableLimits, for tables made to break it. Counts what C++ asks for;
// libcsv's own buffer is bounded by the longest row.
#include "exchange/reading_table.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <new>

namespace {

std::size_t in_use = 0, peak = 0;

// Each block carries its size in front, in a place that keeps it aligned.
constexpr std::size_t front = alignof(std::max_align_t);

}  // namespace

void* operator new(std::size_t size) {
  void* block = std::malloc(size + front);
  if (block == nullptr) throw std::bad_alloc();
  *static_cast<std::size_t*>(block) = size;
  in_use += size;
  peak = std::max(peak, in_use);
  return static_cast<char*>(block) + front;
}
void operator delete(void* place) noexcept {
  if (place == nullptr) return;
  void* block = static_cast<char*>(place) - front;
  in_use -= *static_cast<std::size_t*>(block);
  std::free(block);
}
void operator delete(void* place, std::size_t) noexcept { operator delete(place); }

namespace batten {
namespace {

constexpr std::size_t mebi = 1 << 20;

struct Use {
  std::size_t bytes = 0;     // taken while reading, at the most
  std::size_t readings = 0;  // found
  bool refused = false;
};

Use reading(const std::string& text, const TableLimits& limits = {}) {
  const std::size_t before = in_use;
  peak = in_use;
  const auto table = read_table(text, Compass{}, limits);
  return {peak - before, table ? table->good.size() : limits.readings, !table};
}

std::string repeated(const std::string& head, const std::string& row, std::size_t bytes) {
  std::string text = head;
  text.reserve(bytes + row.size());
  while (text.size() < bytes) text += row;
  return text;
}

void expect_within(const Use& use, std::size_t input, std::size_t times = 2) {
  EXPECT_LE(use.bytes, times * input + 320 * use.readings + 4 * mebi);
}

TEST(Memory, TheCounterCounts) {
  const std::size_t before = in_use;
  const std::string text(1000, 'x');
  EXPECT_GE(in_use, before + 1000);
}

TEST(Memory, ManyShortRows) {
  const auto text = repeated("note,dip\n", "A0,9\n", mebi);
  const auto use = reading(text);
  EXPECT_GT(use.readings, 200'000u);
  expect_within(use, text.size());
}

TEST(Memory, ManyReadingsARow) {
  const auto text = repeated("note,dip,drop,blow,let-off,aftertouch\n", "A0,9,1,9,1,1\n", mebi);
  expect_within(reading(text), text.size());
}

TEST(Memory, TooManyReadings) {
  const auto text = repeated("note,dip\n", "A0,9\n", 2 * mebi);
  const auto use = reading(text, {.readings = 10'000});
  EXPECT_TRUE(use.refused);
  expect_within(use, text.size() / 100);
}

TEST(Memory, BadRowsOnly) {
  const auto text = repeated("note,dip\n", std::string(3000, 'x') + ",9\n", 8 * mebi);
  const auto use = reading(text);
  EXPECT_EQ(use.readings, 0u);
  EXPECT_LE(use.bytes, 4 * mebi) << "nothing is kept of rows beyond their first bytes";
}

TEST(Memory, OneQuotedCellToTheEnd) {
  const auto text = repeated("note,dip\nA0,\"", "9\n", 8 * mebi);
  const auto use = reading(text);
  EXPECT_TRUE(use.refused);
  EXPECT_LE(use.bytes, 4 * mebi);
}

TEST(Memory, LongGaugesForWholeRows) {
  const auto text = repeated("note,gauge,dip,drop,blow,let-off,aftertouch\n",
                             "A0," + std::string(4000, 'g') + ",9,1,9,1,1\n", 2 * mebi);
  const auto use = reading(text, {.bytes = 4 * mebi});
  EXPECT_TRUE(use.refused) << "five times 2 MB of gauges";
  EXPECT_LE(use.bytes, 10 * mebi);
}

TEST(Memory, Utf16) {
  std::string text = "\xFF\xFE";
  for (const char c : repeated("note\tgauge\tdip\n", "A0\tgauge of a long name\t9\n", mebi)) {
    text += c;
    text += '\0';
  }
  const auto use = reading(text);
  EXPECT_FALSE(use.refused);
  expect_within(use, text.size(), 6);
}

}  // namespace
}  // namespace batten

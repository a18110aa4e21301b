// Any bytes as a table of readings: no crash, every row accounted for, what was taken is possible,
// and what is written of it reads back the same.
#include "exchange/reading_table.hpp"
#include "tests/fuzz/require.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

namespace {

using namespace batten;

constexpr Compass compass{};

auto written(const TableReading& reading) {
  return std::tie(reading.note, reading.reading, reading.value, reading.uncertainty, reading.gauge);
}

void check_rows(const ReadingTable& table, int lines) {
  std::set<int> good_lines;
  int last = 0;
  for (const TableReading& reading : table.good) {
    BATTEN_REQUIRE(reading.line >= last && reading.line <= lines);
    last = reading.line;
    good_lines.insert(last);
    const ReadingKind& kind = kind_of(reading.reading);
    BATTEN_REQUIRE(reading.note.has_value() == (kind.scope == Scope::per_note));
    BATTEN_REQUIRE(!reading.note || compass.contains(*reading.note));
    BATTEN_REQUIRE(reading.value >= kind.possible_low && reading.value <= kind.possible_high);
    BATTEN_REQUIRE(reading.uncertainty >= 0);
    BATTEN_REQUIRE(!reading.typed.empty());
  }
  if (table.form == TableForm::long_form) BATTEN_REQUIRE(good_lines.size() == table.good.size());
  BATTEN_REQUIRE(table.rows ==
                 static_cast<int>(good_lines.size()) + table.bad_rows + table.rows_without_value);
  BATTEN_REQUIRE(static_cast<int>(table.bad.size()) == std::min(table.bad_rows, 1000));
  last = 0;
  for (const BadRow& bad : table.bad) {
    BATTEN_REQUIRE(bad.line > last && bad.line <= lines && !good_lines.contains(bad.line));
    last = bad.line;
    BATTEN_REQUIRE(bad.row.size() <= 200 && !bad.reason.happened.empty());
    for (const auto* text : {&bad.row, &bad.reason.happened, &bad.reason.todo})
      BATTEN_REQUIRE(std::none_of(text->begin(), text->end(), [](char c) {
        return static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
      }));
  }
}

// The wide form keeps the order of readings of one kind at one note only.
auto by_note_and_kind(const std::vector<TableReading>& readings) {
  std::map<std::pair<std::optional<Key>, Reading>, std::vector<decltype(written(readings[0]))>>
      cells;
  for (const TableReading& reading : readings)
    cells[{reading.note, reading.reading}].push_back(written(reading));
  return cells;
}

void check_writing(const ReadingTable& table, TableStyle style) {
  // A gauge this long has no room for the apostrophe; see the precondition of write_long.
  for (const TableReading& reading : table.good)
    if (reading.gauge.size() >= 4096) return;
  const auto equal = [](const TableReading& a, const TableReading& b) {
    return written(a) == written(b);
  };
  const auto longs = read_table(write_long(table.good, style), compass);
  BATTEN_REQUIRE(longs && longs->bad_rows == 0);
  BATTEN_REQUIRE(std::equal(longs->good.begin(), longs->good.end(), table.good.begin(),
                            table.good.end(), equal));

  if (table.good.empty()) return;  // the wide form then is the heading "note", no table at all
  const auto wides = read_table(write_wide(table.good, style), compass);
  BATTEN_REQUIRE(wides && wides->bad_rows == 0);
  BATTEN_REQUIRE(by_note_and_kind(wides->good) == by_note_and_kind(table.good));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const auto table = read_table(bytes, compass);
  if (!table) {
    BATTEN_REQUIRE(!table.error().happened.empty());
    return 0;
  }
  // UTF-16 has at most as many line ends as bytes, too.
  const auto ends =
      std::count(bytes.begin(), bytes.end(), '\n') + std::count(bytes.begin(), bytes.end(), '\r');
  check_rows(*table, static_cast<int>(ends) + 1);
  check_writing(*table, {.separator = table->separator,
                         .decimal_comma = size % 2 == 0,
                         .byte_order_mark = size % 3 == 0});
  return 0;
}

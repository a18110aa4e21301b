// What is written reads back the same to the last bit, whatever the form, the style and the gauges.
#include "exchange/reading_table.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <map>
#include <tuple>
#include <utility>

namespace batten {

void showValue(const TableReading& reading, std::ostream& out) {
  out << (reading.note ? reading.note->number : -99) << ' ' << kind_of(reading.reading).code << ' '
      << std::hexfloat << reading.value << " ± " << reading.uncertainty << " '" << reading.gauge
      << "'";
}

namespace {

// Any double in [low, high], all exponents among them.
rc::Gen<double> double_between(double low, double high) {
  return rc::gen::oneOf(
      rc::gen::element(low, high),
      rc::gen::map(rc::gen::arbitrary<std::uint32_t>(),
                   [=](std::uint32_t x) { return low + (high - low) * (x / 4294967295.0); }),
      rc::gen::map(rc::gen::inRange(0, 100'000),
                   [=](int x) { return std::clamp(x / 100.0, low, high); }),
      rc::gen::map(rc::gen::arbitrary<std::uint64_t>(), [=](std::uint64_t bits) {
        double value = 0;
        std::memcpy(&value, &bits, sizeof value);
        return std::isfinite(value) && value >= low && value <= high ? value : low;
      }));
}

rc::Gen<std::string> gauge() {
  const auto piece = rc::gen::element<std::string>(
      "a", "rule", " ", "\t", "\"", ",", ";", "\r", "\n", "\r\n", "'", "=", "+", "-", "@", "é", "″",
      "𝄞", "½", "\xEF\xBB\xBF", "\x1b", "\u00A0", "0", ".");
  return rc::gen::map(rc::gen::container<std::vector<std::string>>(piece), [](const auto& pieces) {
    std::string text;
    for (const auto& one : pieces) text += one;
    return text;
  });
}

rc::Gen<TableReading> table_reading() {
  return rc::gen::exec([] {
    const auto kinds = reading_kinds();
    const ReadingKind& kind = kinds[*rc::gen::inRange<std::size_t>(0, kinds.size())];
    TableReading reading;
    reading.reading = kind.id;
    // Few notes, so that repeats are common.
    if (kind.scope == Scope::per_note) reading.note = Key{*rc::gen::inRange(1, 89) % 7 + 40};
    reading.value = *double_between(kind.possible_low, kind.possible_high);
    if (kind.unit == ReadingUnit::grade) reading.value = std::round(reading.value);
    if (*rc::gen::arbitrary<bool>())
      reading.uncertainty = *double_between(1e-300, kind.possible_high - kind.possible_low);
    reading.gauge = *gauge();
    return reading;
  });
}

rc::Gen<TableStyle> table_style() {
  return rc::gen::exec([] {
    return TableStyle{.separator = *rc::gen::element(',', ';', '\t'),
                      .decimal_comma = *rc::gen::arbitrary<bool>(),
                      .byte_order_mark = *rc::gen::arbitrary<bool>()};
  });
}

// The fields that are written; bits, not values, so that −0 and 0 differ.
auto written(const TableReading& reading) {
  std::uint64_t value = 0, uncertainty = 0;
  std::memcpy(&value, &reading.value, sizeof value);
  std::memcpy(&uncertainty, &reading.uncertainty, sizeof uncertainty);
  return std::tuple(reading.note, reading.reading, value, uncertainty, reading.gauge);
}

auto all_written(const std::vector<TableReading>& readings) {
  std::vector<decltype(written(readings[0]))> list;
  for (const auto& reading : readings) list.push_back(written(reading));
  return list;
}

auto by_note_and_kind(const std::vector<TableReading>& readings) {
  std::map<std::pair<std::optional<Key>, Reading>, std::vector<decltype(written(readings[0]))>>
      cells;
  for (const auto& reading : readings)
    cells[{reading.note, reading.reading}].push_back(written(reading));
  return cells;
}

std::vector<TableReading> read_back(const std::string& text) {
  const auto table = read_table(text, Compass{});
  if (!table) RC_FAIL(table.error().sentence() + "\n" + text);
  if (!table->bad.empty()) RC_FAIL(table->bad[0].reason.sentence() + "\n" + text);
  return table->good;
}

RC_GTEST_PROP(RoundTrip, Long, ()) {
  const auto readings = *rc::gen::container<std::vector<TableReading>>(table_reading());
  const auto style = *table_style();
  RC_ASSERT(all_written(read_back(write_long(readings, style))) == all_written(readings));
}

RC_GTEST_PROP(RoundTrip, WideButForTheOrderBetweenKindsAndNotes, ()) {
  const auto readings = *rc::gen::nonEmpty<std::vector<TableReading>>(
      rc::gen::container<std::vector<TableReading>>(table_reading()));
  const auto style = *table_style();
  const auto found = read_back(write_wide(readings, style));
  RC_ASSERT(by_note_and_kind(found) == by_note_and_kind(readings));
}

TEST(RoundTrip, TheLongestNumbersADoubleNeeds) {
  // Shortest decimals of these need 17 digits; the last three are the least numbers of all.
  for (const double value : {0.1 + 0.2, 1.0 / 3, 2.2250738585072014e-308, 4.9406564584124654e-324,
                             -1.7976931348623157e-300}) {
    const std::vector<TableReading> one = {
        {Reading::datum_transfer, Key{1}, value, std::abs(value), "", "", 0}};
    for (const char separator : {',', ';', '\t'})
      for (const bool comma : {false, true})
        EXPECT_EQ(all_written(read_back(write_long(one, {separator, comma, false}))),
                  all_written(one));
  }
}

}  // namespace
}  // namespace batten

#include "core/keyboard/key.hpp"
#include "exchange/reading_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <csv.h>
#include <map>
#include <utility>

namespace batten {
namespace {

constexpr std::string_view line_end = "\r\n";

// Gathers cells into rows, quoting where RFC 4180 asks for it.
class TableWriter {
 public:
  explicit TableWriter(TableStyle style) : style_(style) {
    if (style.byte_order_mark) text_ = "\xEF\xBB\xBF";
  }

  void cell(std::string_view content) {
    if (!at_row_start_) text_ += style_.separator;
    at_row_start_ = false;
    if (!needs_quotes(content)) {
      text_ += content;
      return;
    }
    // The most csv_write2 writes: every character a quotation mark, and the two around.
    const std::size_t before = text_.size();
    text_.resize(before + 2 * content.size() + 2);
    const std::size_t written = csv_write2(text_.data() + before, text_.size() - before,
                                           content.data(), content.size(), '"');
    text_.resize(before + written);
  }

  void number(double value) {
    std::array<char, 32> digits;  // the longest shortest form has 24 characters
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), value).ptr;
    if (style_.decimal_comma) std::replace(digits.data(), end, '.', ',');
    cell(std::string_view(digits.data(), static_cast<std::size_t>(end - digits.data())));
  }

  void uncertainty(double value) { value > 0 ? number(value) : cell(""); }

  void gauge(std::string_view name) {
    const auto behind = name.find_first_not_of('\'');
    constexpr std::string_view formula_starts = "=+-@\t\r\n";
    if (behind != std::string_view::npos &&
        formula_starts.find(name[behind]) != std::string_view::npos)
      cell("'" + std::string(name));
    else
      cell(name);
  }

  void end_row() {
    text_ += line_end;
    at_row_start_ = true;
  }

  std::string finish() { return std::move(text_); }

 private:
  bool needs_quotes(std::string_view content) const {
    if (content.empty()) return false;
    const auto is_blank = [](char c) { return c == ' ' || c == '\t'; };
    if (is_blank(content.front()) || is_blank(content.back())) return true;
    return content.find_first_of("\"\r\n") != std::string_view::npos ||
           content.find(style_.separator) != std::string_view::npos;
  }

  TableStyle style_;
  std::string text_;
  bool at_row_start_ = true;
};

std::string note_cell(const std::optional<Key>& note) { return note ? note_name(*note) : ""; }

// What the readings of one kind need in the wide form.
struct WideColumns {
  bool present = false, uncertainty = false, gauge = false;
};

}  // namespace

std::string write_long(std::span<const TableReading> readings, TableStyle style) {
  TableWriter writer(style);
  for (const auto heading : {"note", "reading", "value", "unit", "uncertainty", "gauge"})
    writer.cell(heading);
  writer.end_row();
  for (const TableReading& reading : readings) {
    const ReadingKind& kind = kind_of(reading.reading);
    writer.cell(note_cell(reading.note));
    writer.cell(kind.code);
    writer.number(reading.value);
    writer.cell(unit_symbol(kind.unit));
    writer.uncertainty(reading.uncertainty);
    writer.gauge(reading.gauge);
    writer.end_row();
  }
  return writer.finish();
}

std::string write_wide(std::span<const TableReading> readings, TableStyle style) {
  const auto kinds = reading_kinds();
  std::vector<WideColumns> columns(kinds.size());
  // Per note (none first), per reading, its values in the order given.
  using Cells = std::vector<std::vector<const TableReading*>>;
  std::map<std::optional<Key>, Cells> notes;
  for (const TableReading& reading : readings) {
    const auto place = static_cast<std::size_t>(reading.reading);
    columns[place].present = true;
    columns[place].uncertainty |= reading.uncertainty > 0;
    columns[place].gauge |= !reading.gauge.empty();
    notes.try_emplace(reading.note, kinds.size()).first->second[place].push_back(&reading);
  }

  TableWriter writer(style);
  writer.cell("note");
  for (std::size_t i = 0; i < kinds.size(); ++i) {
    if (!columns[i].present) continue;
    const std::string code(kinds[i].code);
    const std::string_view symbol = unit_symbol(kinds[i].unit);
    const std::string unit = symbol.empty() ? "" : fmt::format(" [{}]", symbol);
    writer.cell(code + unit);
    if (columns[i].uncertainty) writer.cell(fmt::format("{} uncertainty{}", code, unit));
    if (columns[i].gauge) writer.cell(code + " gauge");
  }
  writer.end_row();

  for (const auto& [note, cells] : notes) {
    std::size_t repeats = 0;
    for (const auto& list : cells) repeats = std::max(repeats, list.size());
    for (std::size_t k = 0; k < repeats; ++k) {
      writer.cell(note_cell(note));
      for (std::size_t i = 0; i < kinds.size(); ++i) {
        if (!columns[i].present) continue;
        const TableReading* reading = k < cells[i].size() ? cells[i][k] : nullptr;
        reading ? writer.number(reading->value) : writer.cell("");
        if (columns[i].uncertainty) writer.uncertainty(reading ? reading->uncertainty : 0);
        if (columns[i].gauge) writer.gauge(reading ? std::string_view(reading->gauge) : "");
      }
      writer.end_row();
    }
  }
  return writer.finish();
}

}  // namespace batten

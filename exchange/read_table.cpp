#include "core/keyboard/key.hpp"
#include "exchange/encoding.hpp"
#include "exchange/headings.hpp"
#include "exchange/reading_table.hpp"
#include "exchange/rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace batten {
namespace {

constexpr auto nothing_taken = "Nothing was taken from the table.";
constexpr std::size_t shown_row_bytes = 200;

// "52.4 mm"; a grade and a fraction have no unit worth saying.
std::string with_unit(double value, ReadingUnit unit) {
  const bool bare = unit == ReadingUnit::grade || unit == ReadingUnit::fraction;
  return fmt::format("{:.6g}{}{}", value, bare ? "" : " ", bare ? "" : unit_symbol(unit));
}

std::string joined(std::string_view cell, std::string_view unit) {
  std::string typed(trimmed(cell));
  unit = trimmed(unit);
  if (!unit.empty()) typed.append(" ").append(unit);
  return typed;
}

// The apostrophe that marks text a spreadsheet would run; see write_long.
std::string_view without_text_mark(std::string_view gauge) {
  const auto behind = gauge.find_first_not_of('\'');
  if (behind == 0 || behind == std::string_view::npos) return gauge;
  constexpr std::string_view formula_starts = "=+-@\t\r\n";
  return formula_starts.find(gauge[behind]) == std::string_view::npos ? gauge : gauge.substr(1);
}

class TableReader {
 public:
  TableReader(const Compass& compass, const TableLimits& limits)
      : compass_(compass), limits_(limits) {}

  Result<ReadingTable> read(std::string_view text);

 private:
  // What a row gave; without a value when it has readings nobody took.
  enum class RowOutcome { readings, nothing };
  Result<RowOutcome> take_row(const Row& row, const Headings& headings);
  Result<RowOutcome> take_long(const Row& row, const LongColumns& columns);
  Result<RowOutcome> take_wide(const Row& row, const Headings& headings);
  Result<std::optional<Key>> note_of(std::string_view cell) const;
  Result<TableReading> checked(Reading reading, std::optional<Key> note, std::string_view cell,
                               const CellUnit& unit, std::string_view uncertainty_cell,
                               const CellUnit& uncertainty_unit) const;
  void keep(TableReading reading, const Row& row, std::string_view gauge);
  void list_bad(const Row& row, Problem reason);

  Compass compass_;
  TableLimits limits_;
  ReadingTable table_;
  std::size_t text_bytes_ = 0;  // of gauges and cells kept
  // The last reading named and the last unit, as tables repeat both from row to row.
  std::string last_code_, last_unit_text_;
  std::optional<Reading> last_reading_;
  std::optional<CellUnit> last_unit_;
};

Result<std::optional<Key>> TableReader::note_of(std::string_view cell) const {
  cell = trimmed(cell);
  if (cell.empty()) return std::optional<Key>();
  if (cell.size() > 16) return problem(fmt::format("“{}” is not a note.", shown(cell)));
  const auto key = parse_key(cell);
  if (!key)
    return problem(fmt::format("“{}” is not a note.", shown(cell)),
                   "Write notes as A0, F#3 or Bb4, or as key numbers.");
  if (!compass_.contains(*key))
    return problem(
        fmt::format("The note {} is not on this piano, which has {} to {}.", note_name(*key),
                    note_name(compass_.lowest), note_name(compass_.highest)),
        "Correct the note, or the piano's compass.");
  return std::optional(*key);
}

Result<TableReading> TableReader::checked(Reading reading, std::optional<Key> note,
                                          std::string_view cell, const CellUnit& unit,
                                          std::string_view uncertainty_cell,
                                          const CellUnit& uncertainty_unit) const {
  const ReadingKind& kind = kind_of(reading);
  if (kind.scope == Scope::per_note && !note)
    return problem(fmt::format("There is no note for the {}.", kind.name),
                   "Write in the note it was read at.");
  if (kind.scope != Scope::per_note && note)
    return problem(
        fmt::format("The {} is read once for the {}, not at a note; the row names {}.", kind.name,
                    kind.scope == Scope::per_piano ? "piano" : "visit", note_name(*note)),
        "Leave the note empty in its row.");
  const auto where = [&] {
    return note ? fmt::format("The {} at {}", kind.name, note_name(*note))
                : fmt::format("The {}", kind.name);
  };
  const auto value = parse_cell(cell, unit);
  if (!value)
    return problem(fmt::format("{}: {}", where(), value.error().happened),
                   value.error().todo.empty()
                       ? fmt::format("Expected {}.", expected_unit(kind.unit))
                       : value.error().todo);
  if (*value < kind.possible_low || *value > kind.possible_high)
    return problem(
        fmt::format("{} reads {}; possible is {} to {}.", where(), with_unit(*value, kind.unit),
                    with_unit(kind.possible_low, kind.unit),
                    with_unit(kind.possible_high, kind.unit)),
        "Is it a slip, or in another unit?");
  if (kind.unit == ReadingUnit::grade && *value != std::floor(*value))
    return problem(fmt::format("{} is “{}”, but grades are whole numbers.", where(), shown(cell)),
                   "Take the nearer grade.");

  TableReading result{.reading = reading, .note = note, .value = *value, .gauge = {}, .typed = {}};
  if (trimmed(uncertainty_cell).empty()) return result;
  const auto uncertainty = parse_cell(uncertainty_cell, uncertainty_unit);
  if (!uncertainty)
    return problem(fmt::format("{}, its uncertainty: {}", where(), uncertainty.error().happened),
                   uncertainty.error().todo);
  if (*uncertainty <= 0 || *uncertainty > kind.possible_high - kind.possible_low)
    return problem(fmt::format("{} has an uncertainty of {}, which cannot be.", where(),
                               with_unit(*uncertainty, kind.unit)),
                   "State one standard deviation, above 0, or leave it empty.");
  result.uncertainty = *uncertainty;
  return result;
}

Result<TableReader::RowOutcome> TableReader::take_long(const Row& row, const LongColumns& columns) {
  const std::string_view cell = row.cell(columns.value);
  if (trimmed(cell).empty()) return RowOutcome::nothing;

  const std::string_view code = trimmed(row.cell(columns.reading));
  if (!last_reading_ || code != last_code_) {
    last_reading_ = code.size() <= 64 ? reading_by_code(code) : std::nullopt;
    last_code_ = code;
    last_unit_.reset();
  }
  if (!last_reading_)
    return problem(code.empty() ? "The row does not say what was read."
                                : fmt::format("“{}” is no reading known here.", shown(code)),
                   "Write one of the readings' codes, such as string-height, hammer-height, dip.");
  const auto note = note_of(row.cell(columns.note));
  if (!note) return tl::unexpected(note.error());

  const std::string_view unit_text = columns.unit ? row.cell(*columns.unit) : std::string_view();
  if (!last_unit_ || unit_text != last_unit_text_) {
    const auto unit = parse_unit(unit_text, kind_of(*last_reading_).unit);
    if (!unit)
      return problem(fmt::format("The {}: {}", kind_of(*last_reading_).name, unit.error().happened),
                     "Mend the unit, or leave it empty for the usual one.");
    last_unit_ = *unit;
    last_unit_text_ = unit_text;
  }
  auto reading = checked(*last_reading_, *note, cell, *last_unit_,
                         columns.uncertainty ? row.cell(*columns.uncertainty) : std::string_view(),
                         *last_unit_);
  if (!reading) return tl::unexpected(reading.error());
  reading->typed = joined(cell, unit_text);
  keep(std::move(*reading), row, columns.gauge ? row.cell(*columns.gauge) : std::string_view());
  return RowOutcome::readings;
}

Result<TableReader::RowOutcome> TableReader::take_wide(const Row& row, const Headings& headings) {
  const auto note = note_of(row.cell(headings.wide_note));
  if (!note) return tl::unexpected(note.error());
  const std::size_t before = table_.good.size();
  std::optional<Problem> first;
  int more = 0;
  for (const WideColumn& column : headings.wide) {
    const std::string_view cell = row.cell(column.value);
    if (trimmed(cell).empty()) continue;
    auto reading = checked(column.reading, *note, cell, column.unit,
                           column.uncertainty ? row.cell(*column.uncertainty) : std::string_view(),
                           column.uncertainty_unit);
    if (!reading) {
      if (first)
        ++more;
      else
        first = std::move(reading.error());
      continue;
    }
    reading->typed = joined(cell, column.unit_text);
    std::string_view gauge = column.gauge ? row.cell(*column.gauge) : std::string_view();
    if (gauge.empty() && headings.wide_gauge) gauge = row.cell(*headings.wide_gauge);
    keep(std::move(*reading), row, gauge);
  }
  if (first) {
    table_.good.resize(before);
    if (more > 0) first->happened += fmt::format(" ({} more in this row cannot be taken.)", more);
    return tl::unexpected(std::move(*first));
  }
  return table_.good.size() > before ? RowOutcome::readings : RowOutcome::nothing;
}

Result<TableReader::RowOutcome> TableReader::take_row(const Row& row, const Headings& headings) {
  if (row.fault == RowFault::cell_too_long)
    return problem(fmt::format("A cell of this row is longer than {} bytes.", limits_.cell_bytes),
                   "Shorten it; a quotation mark may not be closed there.");
  if (row.fault == RowFault::quotes)
    return problem(
        fmt::format("The rows of lines {} to {} hang together by a quotation mark that is "
                    "not closed, or not doubled inside its cell.",
                    row.line, row.last_line),
        "Close the quotation mark, or double it: 1 3/4\"\" inside quotes.");
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    const bool named = i < headings.named.size() && headings.named[i];
    if (!named && !trimmed(row.cells[i]).empty())
      return problem(
          fmt::format("The cell “{}” stands under no heading.", shown(row.cells[i])),
          table_.separator == ','
              ? "Give its column a heading; if commas are decimal marks here, put quotes "
                "around such numbers or separate cells by semicolons."
              : "Give its column a heading, or take the cell out.");
  }
  if (row.more_cells)
    return problem("The row has more cells than there are headings.", "Take out what is too much.");
  return headings.form == TableForm::long_form ? take_long(row, headings.long_columns)
                                               : take_wide(row, headings);
}

void TableReader::keep(TableReading reading, const Row& row, std::string_view gauge) {
  reading.gauge = without_text_mark(gauge);
  reading.line = row.line;
  text_bytes_ += reading.gauge.size() + reading.typed.size();
  table_.good.push_back(std::move(reading));
}

void TableReader::list_bad(const Row& row, Problem reason) {
  ++table_.bad_rows;
  if (table_.bad.size() < limits_.bad_rows_listed)
    table_.bad.push_back({row.line, shown(row.raw, shown_row_bytes), std::move(reason)});
}

Result<ReadingTable> TableReader::read(std::string_view text) {
  const auto separator = find_separator(text);
  if (trimmed(text.substr(0, 4096)).empty() && trimmed(text).empty())
    return problem("The table is empty.");
  if (!separator)
    return problem(
        "The first row of the table has only one column.",
        "Begin with the headings note,reading,value,unit, separated by commas, semicolons "
        "or tabs.",
        nothing_taken);
  table_.separator = separator->separator;
  RowReader rows(text.substr(separator->skip), separator->separator, separator->skip > 0 ? 2 : 1,
                 limits_);
  Row row;
  const auto stopped = [](Problem reason) {
    reason.kept = nothing_taken;
    return tl::unexpected(std::move(reason));
  };
  std::optional<Headings> headings;
  while (true) {
    const auto more = rows.next(row);
    if (!more) return stopped(more.error());
    if (!*more) break;
    if (row.blank()) continue;
    if (!headings) {
      auto parsed = parse_headings(row);
      if (!parsed) return tl::unexpected(parsed.error());
      headings = std::move(*parsed);
      table_.form = headings->form;
      continue;
    }
    ++table_.rows;
    auto outcome = take_row(row, *headings);
    if (!outcome)
      list_bad(row, std::move(outcome.error()));
    else if (*outcome == RowOutcome::nothing)
      ++table_.rows_without_value;
    // A gauge of a whole wide row is kept once for each of its readings.
    if (text_bytes_ > limits_.bytes)
      return stopped({"The names of the gauges in this table are too long.", {}, "Shorten them."});
    if (table_.good.size() > limits_.readings)
      return stopped({fmt::format("The table holds more than {} readings.", limits_.readings),
                      {},
                      "Split it into smaller ones."});
  }
  return std::move(table_);
}

}  // namespace

Result<ReadingTable> read_table(std::string_view bytes, const Compass& compass,
                                const TableLimits& limits) {
  if (bytes.size() > limits.bytes)
    return problem(fmt::format("The table has {} MB; at most {} MB are read.", bytes.size() >> 20,
                               limits.bytes >> 20),
                   "Split it into smaller ones.", nothing_taken);
  std::string storage;
  const auto text = as_utf8(bytes, storage);
  if (!text) {
    Problem reason = text.error();
    reason.kept = nothing_taken;
    return tl::unexpected(std::move(reason));
  }
  return TableReader(compass, limits).read(*text);
}

}  // namespace batten

#include "app/tables.hpp"

#include "app/entries.hpp"
#include "app/files.hpp"
#include "app/pianos.hpp"
#include "app/readings.hpp"
#include "core/regulation/catalogue/readings.hpp"

#include <algorithm>
#include <iterator>
#include <set>
#include <utility>

namespace batten {

namespace {

ReadingTaken to_reading(const TableReading& r) {
  const double uncertainty =
      r.uncertainty > 0 ? r.uncertainty : kind_of(r.reading).usual_uncertainty;
  return {r.reading, r.note, r.value, uncertainty, r.gauge, r.typed};
}

// Rows that hold a reading this piano cannot have are bad as a whole, like any other bad row.
void refuse_what_is_not_there(ReadingTable& table, const std::optional<LineSettings>& settings,
                              const TableLimits& limits) {
  std::set<int> bad;
  for (const TableReading& r : table.good) {
    auto ok = check_against_piano(settings, to_reading(r));
    if (ok || !bad.insert(r.line).second) continue;
    ++table.bad_rows;
    table.bad.push_back({r.line,
                         (r.note ? note_name(*r.note) : "") + ", " +
                             std::string(kind_of(r.reading).code) + ", " + r.typed,
                         ok.error()});
  }
  if (bad.empty()) return;
  std::erase_if(table.good, [&](const TableReading& r) { return bad.contains(r.line); });
  std::stable_sort(table.bad.begin(), table.bad.end(),
                   [](const BadRow& a, const BadRow& b) { return a.line < b.line; });
  if (table.bad.size() > limits.bad_rows_listed) table.bad.resize(limits.bad_rows_listed);
}

}  // namespace

Result<ImportOutcome> import_table(Desk& desk, const Piano& piano,
                                   const std::filesystem::path& file, bool take_good,
                                   const Progress& progress) {
  return guarded([&]() -> Result<ImportOutcome> {
    const TableLimits limits;
    const auto told = [&](double share) {
      if (progress) progress(share);
    };
    told(0);
    auto text = read_file(file, limits.bytes);
    if (!text) return tl::unexpected(text.error());
    told(0.1);
    auto table = read_table(*text, compass_of(piano), limits);
    if (!table) return tl::unexpected(table.error());
    refuse_what_is_not_there(*table, settings_on_record(desk, piano), limits);
    told(0.3);
    ImportOutcome out{table->form, 0, table->bad_rows, std::move(table->bad),
                      table->rows_without_value};
    if (out.bad_rows > 0 && !take_good) return out;
    std::vector<EntryContent> contents;
    contents.reserve(table->good.size());
    for (const TableReading& r : table->good) contents.emplace_back(to_reading(r));
    told(0.4);
    if (!contents.empty()) {
      auto kept = keep(desk, piano, std::move(contents));
      if (!kept) return tl::unexpected(kept.error());
      out.kept = kept->size();
    }
    told(1);
    return out;
  });
}

Result<std::string> export_table(Desk& desk, const Piano& piano, const ExportRequest& request) {
  return guarded([&]() -> Result<std::string> {
    auto now = standing(desk, piano);
    if (!now) return tl::unexpected(now.error());
    std::vector<TableReading> rows;
    rows.reserve(now->readings.size());
    for (const Entry& e : now->readings) {
      const auto& r = std::get<ReadingTaken>(e.content);
      rows.push_back({r.reading, r.note, r.value, r.uncertainty, r.gauge, r.typed, 0});
    }
    return request.form == TableForm::long_form ? write_long(rows, request.style)
                                                : write_wide(rows, request.style);
  });
}

}  // namespace batten

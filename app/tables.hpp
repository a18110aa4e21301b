// Tables of readings into the journal and out of it.
#pragma once

#include "app/desk.hpp"
#include "exchange/reading_table.hpp"

#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace batten {

struct ImportOutcome {
  TableForm form = TableForm::long_form;
  std::size_t kept = 0;  // readings now in the journal
  int bad_rows = 0;
  std::vector<BadRow> bad;  // the first of them
  int rows_without_value = 0;
};

// Told how far a long import is, 0…1.
using Progress = std::function<void(double)>;

// Reads the file and keeps all its readings in one durable step. Where rows are bad nothing is
// kept, unless `take_good`; the bad ones are listed either way. A reading this piano cannot have
// (of a damper that is not there, of a note out of service) makes its row bad too. Error: the table
// as a whole cannot be read.
Result<ImportOutcome> import_table(Desk& desk, const Piano& piano,
                                   const std::filesystem::path& file, bool take_good,
                                   const Progress& progress = {});

struct ExportRequest {
  TableForm form = TableForm::long_form;
  TableStyle style;
};
// All readings in force, journal order.
Result<std::string> export_table(Desk& desk, const Piano& piano, const ExportRequest& request);

}  // namespace batten

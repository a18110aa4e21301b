// Pages to files. A file is written beside its place and renamed, so that a failed write leaves
// what was there. Both throw ReportFailure when the file cannot be written.
#pragma once

#include "reports/page.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace batten::paper {

// `created`: ISO 8601.
void write_pdf(const std::vector<std::unique_ptr<Page>>& pages, const std::string& title,
               const std::string& created, const std::filesystem::path& file);

void write_png(const Page& page, double dpi, const std::filesystem::path& file);

}  // namespace batten::paper

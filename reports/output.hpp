// Pages to files. A file is written beside its place and renamed, so that a failed write leaves
// what was there. Both throw ReportFailure when the file cannot be written.
#pragma once

#include "reports/page.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace batten::paper {

// `created`: ISO 8601; `language`: "en", "de". PDF/A-2u, the same bytes for the same pages.
std::string pdf_bytes(const std::vector<std::unique_ptr<Page>>& pages, const std::string& title,
                      const std::string& created, const std::string& language = "en");
void write_pdf(const std::vector<std::unique_ptr<Page>>& pages, const std::string& title,
               const std::string& created, const std::filesystem::path& file,
               const std::string& language = "en");

std::string png_bytes(const Page& page, double dpi);
void write_png(const Page& page, double dpi, const std::filesystem::path& file);

// Any bytes, likewise.
void write_file(const std::filesystem::path& file, const std::string& bytes);

}  // namespace batten::paper

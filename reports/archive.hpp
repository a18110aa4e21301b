// A PDF made one to keep: PDF/A-2u (ISO 19005-2) – colours said by a profile, title and date in
// XMP, an identity that hangs on the content alone. Internal to reports.
#pragma once

#include <string>
#include <string_view>

namespace batten::paper {

struct ArchiveWords {
  std::string title;
  std::string created;   // ISO 8601, UTC: "2026-11-26T08:00:00Z"
  std::string language;  // RFC 3066: "en", "de"
};

// The same bytes for the same values. `pdf` as cairo writes it: fonts embedded, with their Unicode.
std::string archived(const std::string& pdf, const ArchiveWords& words);

}  // namespace batten::paper

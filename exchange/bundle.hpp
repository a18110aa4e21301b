// A piano with its whole journal as one file: docs/formats/bundle.md.
#pragma once

#include "core/journal/order.hpp"
#include "core/outcome/outcome.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace batten {

inline constexpr int bundle_version = 1;
// 300,000 entries and more: many times what forty visits leave at a piano.
inline constexpr std::size_t most_bundle_bytes = std::size_t{50} * 1024 * 1024;

// JSON, a line for each visit and entry; the same journal gives the same bytes. Texts must be
// UTF-8, numbers finite.
std::string write_bundle(const WholeJournal& journal);

// Error: too long; no JSON or cut short; another kind of file; of a later version; other bytes than
// its checksum says; a member missing, not known or of the wrong kind; a code not in the catalogue.
// What a store refuses besides (an entry of an unknown visit, say) is the store's to tell.
Result<WholeJournal> read_bundle(std::string_view text);

}  // namespace batten

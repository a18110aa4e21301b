// Bytes of a file to UTF-8 text.
#pragma once

#include "core/outcome/outcome.hpp"

#include <string>
#include <string_view>

namespace batten {

// The text without its byte order mark. UTF-16 with a mark is turned into UTF-8 kept in `storage`;
// otherwise the result looks into `bytes`.
// Errors: anything else that is not UTF-8 (RFC 3629), or that holds a NUL.
Result<std::string_view> as_utf8(std::string_view bytes, std::string& storage);

// Text from a file made fit to show: control characters replaced by "?", tabs and line breaks by a
// blank, cut to at most `limit` bytes at a character's end with "…" behind it. `text` is UTF-8.
std::string shown(std::string_view text, std::size_t limit = 40);

}  // namespace batten

// An address as a square code that a camera reads (ISO/IEC 18004).
#pragma once

#include <string>

namespace batten::server {

// For a page: black on white with the four modules of margin the standard asks for. Empty: the text
// is too long for one.
std::string qr_svg(const std::string& text);
// For a terminal: two modules a character, black on white whatever the terminal's colours are.
std::string qr_terminal(const std::string& text);

}  // namespace batten::server
